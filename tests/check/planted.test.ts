/** check finds every one of at least 150 faults planted in sound files, and says it with the code that was expected. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { adjustList } from '../../src/cutlist/adjust.js';
import type { CutList, Shot } from '../../src/cutlist/model.js';
import { loadList } from '../../src/load.js';
import { COUNTS, arbitraryList } from '../support/lists.js';
import { listOf, P25 } from '../support/small.js';
import { IN_CHAPTERS, IN_EDL, IN_LISTS, IN_LOGS, IN_OTIO, logOf, TWO_CLIPS, type Dice, type Planted, type Planter } from './planted.js';
import { chaptersOf, checkAll, codes, edlOf, otioOf, said } from './written.js';

/** Faults of each kind. */
const EACH = 4;

let planted = 0;

/** A die that always falls alike. */
function diceOf(seed: number): Dice {
  let state = seed + 1;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

const shape = { audio: ['none'], maxShots: 14, midnight: false } as const;
const SOUND = fc.sample(arbitraryList({ ...shape, counts: COUNTS.filter(({ rate }) => rate.nominal < 40) }), { numRuns: 400, seed: 14 });
const AT_25 = fc.sample(arbitraryList({ ...shape, counts: [P25], black: false }), { numRuns: 400, seed: 15 }).filter((list) => list.shots.length > 3 && list.shots.every(({ source }) => source !== 'program'));

/** Plants a fault in as many lists as it takes to have EACH of it. */
async function plant(planter: Planter, lists: readonly CutList[] = SOUND): Promise<void> {
  let done = 0;
  for (const [index, list] of lists.entries()) {
    if (done === EACH) break;
    const fault = planter(list, diceOf(index));
    if (fault === undefined) continue;
    done += 1;
    await finds(fault);
  }
  expect(done).toBe(EACH);
}

async function finds({ files, options, against, code, line }: Planted): Promise<void> {
  planted += 1;
  const checked = await checkAll(files, options, against);
  expect(codes(checked), said(checked).join('\n')).toContain(code);
  if (line !== undefined) expect(said(checked).some((text) => text.startsWith(`${files[0]?.name ?? ''}:${String(line)}:`) && text.endsWith(`[${code}]`)), `${String(line)}\n${said(checked).join('\n')}`).toBe(true);
}

describe('in an EDL', () => {
  const { 'two clips on one reel at one time': _other, ...others } = IN_EDL;
  void _other;
  it.each(Object.entries(others))('%s', async (_, planter) => plant(planter, [...SOUND, ...AT_25]));
  it('two clips on one reel at one time', async () => plant(TWO_CLIPS));
});

describe('in an OTIO', () => {
  it.each(Object.entries(IN_OTIO))('%s', async (_, planter) => plant(planter));
});

describe('in a list, with what belongs to it', () => {
  it.each(Object.entries(IN_LISTS))('%s', async (_, planter) => plant(planter, [...SOUND, ...AT_25]));
});

describe('in chapters', () => {
  it.each(Object.entries(IN_CHAPTERS))('%s', async (_, planter) => {
    for (const list of SOUND.slice(0, EACH)) {
      const [text, webvtt, ffmetadata, matroska] = await Promise.all((['text', 'webvtt', 'ffmetadata', 'matroska'] as const).map((as) => chaptersOf(list, as)));
      if (text === undefined || webvtt === undefined || ffmetadata === undefined || matroska === undefined) throw new Error('not written');
      const fault = planter({ text, webvtt, ffmetadata, matroska });
      if (fault !== undefined) await finds(fault);
    }
  });

  it.each(['text', 'webvtt', 'ffmetadata', 'matroska'] as const)('%s that reaches past the end of its list', async (as) => {
    for (const list of SOUND.slice(0, EACH)) {
      const longer: CutList = { ...list, frames: list.frames + 9000, markers: [{ at: list.frames + 4000, note: 'Late' }] };
      await finds({ files: [await chaptersOf(longer, as), ...edlOf(list)], code: 'chapter-order' });
    }
  });
});

describe('in a log', () => {
  it.each(Object.entries(IN_LOGS))('%s', async (_, planter) => plant(planter, AT_25));
});

describe('in a list against its log', () => {
  const load = { rate: { rate: P25.rate, dropFrame: false } };
  const logged = async (list: CutList): Promise<CutList> => {
    const problems: string[] = [];
    const out = await loadList({ name: 'show.csv', bytes: logOf(list), title: 'x' }, load, ({ message }) => { problems.push(message); });
    if (out === undefined) throw new Error(problems.join('\n'));
    return out;
  };

  it.each<[string, (list: CutList) => CutList]>([
    ['every switch two frames early', (list) => adjustList(list, { lead: { all: 2 } }, () => undefined)],
    ['another source', (list) => ({ ...list, shots: list.shots.map((shot, index): Shot => (index === 1 ? { ...shot, source: list.sources.find(({ id }) => id !== shot.source)?.id ?? shot.source } : shot)) })],
    ['other source frames', (list) => ({ ...list, shots: list.shots.map((shot, index): Shot => (index === 1 ? { ...shot, sourceIn: shot.sourceIn + 1, sourceOut: shot.sourceOut + 1 } : shot)) })],
    ['cuts only', (list) => adjustList(list, { cutsOnly: true }, () => undefined)],
    ['a frame less', (list) => ({ ...list, frames: list.frames - 1, shots: list.shots.map((shot, index): Shot => (index === list.shots.length - 1 ? { ...shot, out: shot.out - 1, sourceOut: shot.sourceOut - 1 } : shot)), markers: [] })],
  ])('%s', async (_, change) => {
    let done = 0;
    for (const list of AT_25) {
      if (done === EACH) break;
      const right = await logged(list);
      const changed = change(right);
      const last = changed.shots.at(-1);
      const fits = last !== undefined && last.out - last.in >= (last.transition?.frames ?? 1);
      if (JSON.stringify(changed.shots) === JSON.stringify(right.shots) || new Set(right.shots.map(({ source }) => source)).size < 2 || !fits) continue;
      // What the log gives is sound against it; what was changed is not.
      const [edl] = await checkAll(edlOf(right), {}, right);
      expect(edl?.findings.sorted).toEqual([]);
      expect(edl?.accounted).toEqual({ switches: right.shots.length, found: right.shots.length });
      done += 1;
      await finds({ files: [otioOf(changed)], against: right, code: 'not-as-logged' });
    }
    expect(done).toBe(EACH);
  });

  it('is said in the words for transitions that all commands have', async () => {
    const [right, changed] = [listOf('1:100 2:100w12 3:100'), listOf('1:100 2:100d9 3:100w10')];
    expect(said(await checkAll([otioOf(changed)], {}, right)).map((line) => line.replace(/^.*comes on by /, ''))).toEqual([
      'a dissolve of 9 frames, and in the log by a wipe 17 of 12 frames [not-as-logged]',
      'a wipe 17 of 10 frames, and in the log by a cut [not-as-logged]',
    ]);
  });
});

describe('in what describes a show', () => {
  it.each<[string, string, string, Planted['code']]>([
    ['an unknown key', 'show.show.json', '{"sources": [{"id": "1", "reeel": "WIDE"}]}', 'bad-show-file'],
    ['two sources of one id', 'show.show.json', '{"sources": [{"id": "1"}, {"id": "1"}]}', 'duplicate-source'],
    ['a rate that does not exist', 'show.show.json', '{"rate": "26", "sources": []}', 'bad-rate'],
    ['a label that drop-frame skips', 'show.show.json', '{"rate": "29.97df", "sources": [{"id": "1", "start": "10:01:00;00"}]}', 'dropped-label'],
    ['a mapping with an unknown key', 'x.map.json', '{"fields": {"thyme": "a"}}', 'bad-map'],
    ['a mapping that breaks off', 'x.map.json', '{"fields": {', 'bad-map'],
    ['corrections of an unknown kind', 'fix.json', '{"corrections": [{"do": "explode"}]}', 'bad-corrections'],
  ])('%s', async (_, name, text, code) => {
    await finds({ files: [{ name, text }], code });
  });
});

it('were 150 faults at least', () => {
  expect(planted).toBeGreaterThanOrEqual(150);
});

