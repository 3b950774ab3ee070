/** The whole conversion as a function: what wins over what, and what the demo show becomes. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoFiles, demoShow } from '../fixtures/demo/make.js';
import { convertLog, type Converted, type ConvertOptions } from '../src/convert.js';
import { formOf } from '../src/formats/form.js';
import { loadList, type LoadOptions } from '../src/load.js';
import { BLACK, type CutList } from '../src/cutlist/model.js';
import { listFaults } from '../src/cutlist/validate.js';
import { isFault, ProblemList, problemLine } from '../src/problems.js';
import { readShowFile } from '../src/show/read.js';
import type { ShowFile } from '../src/show/show.js';
import { parseRate, type RateSpec } from '../src/timecode/rate.js';
import { formatTimecode } from '../src/timecode/timecode.js';

const NAME = 'harbour-kitchen-14';
const demo = demoFiles();
const fileOf = (ending: string): string => demo.get(`${NAME}${ending}`) ?? '';

function rate(text: string): RateSpec {
  const spec = parseRate(text);
  if (isFault(spec)) throw new Error(spec.message);
  return spec;
}

function showOf(value: unknown): ShowFile {
  const list = new ProblemList();
  const show = readShowFile(typeof value === 'string' ? value : JSON.stringify(value), 'show.json', list.add);
  if (show === undefined) throw new Error(list.problems.map(problemLine).join('\n'));
  return show;
}

interface Run {
  readonly made: Converted[];
  readonly lines: string[];
}

async function convert(log: string | Uint8Array, options: Partial<ConvertOptions> = {}, show?: unknown): Promise<Run> {
  const list = new ProblemList();
  const input = { name: 'log.csv', bytes: log, title: 'log', ...(show === undefined ? {} : { show: { file: 'show.json', show: showOf(show) } }) };
  const made = await convertLog(input, { to: ['edl', 'otio', 'chapters'], otio: { base: '/shows' }, ...options }, list.add);
  return { made, lines: list.problems.map(problemLine) };
}

const textsOf = ({ made }: Run): string[] => made.flatMap(({ outputs }) => outputs.map(({ chunks }) => [...chunks].join('')));

async function listOf(log: string, options: Partial<ConvertOptions> = {}, show?: unknown): Promise<CutList> {
  const { made, lines } = await convert(log, options, show);
  const [first] = made;
  if (first === undefined) throw new Error(lines.join('\n'));
  expect(listFaults(first.list)).toEqual([]);
  return first.list;
}

describe('the demo show', () => {
  it('is what its script makes', () => {
    for (const [name, text] of demo) expect(readFileSync(new URL(`../fixtures/demo/${name}`, import.meta.url), 'utf8')).toBe(text);
  });

  it('is a show worth the name', () => {
    const { shots, rows, stop } = demoShow();
    const first = shots[0]?.at ?? 0;
    expect((stop - first) * 1001 / 30000).toBeGreaterThanOrEqual(45 * 60);
    expect(shots.length).toBeGreaterThanOrEqual(150);
    expect(new Set(shots.map(({ source }) => source).filter((source) => source !== BLACK)).size).toBe(4);
    expect(shots.filter(({ mix }) => mix?.kind === 'dissolve' && !mix.byHand).length).toBeGreaterThan(5);
    expect(shots.filter(({ mix }) => mix?.byHand === true).length).toBeGreaterThan(3);
    expect(rows.filter(({ action }) => action === 'cue').length).toBeGreaterThan(10);
    expect(rows.filter(({ action }) => action === 'marker').length).toBeGreaterThan(5);
  });

  it('gives back the shots that its log describes', async () => {
    const { shots, stop } = demoShow();
    const list = await listOf(fileOf('.csv'), {}, fileOf('.show.json'));
    const start = shots[0]?.at ?? 0;
    expect(list.frames).toBe(stop - start);
    expect(list.shots.map(({ source, in: at, sourceIn, transition }) => ({
      source, at, sourceIn, mix: transition === undefined ? undefined : { kind: transition.kind, frames: transition.frames },
    }))).toEqual(shots.map(({ source, at, mix }) => ({
      source,
      at: at - start,
      sourceIn: source === BLACK ? 0 : at + (source === '2' ? 2 : 0),
      mix: mix === undefined ? undefined : { kind: mix.kind, frames: mix.frames },
    })));
    expect(list.audio).toMatchObject([{ source: 'mix', in: 0, out: list.frames, sourceIn: start, tracks: [1, 2], channels: [1, 2] }]);
    expect(formatTimecode(list.recordStart, list.count)).toBe('01:00:00;00');
  });

  it('gives the same bytes from CSV and from XML, run after run', async () => {
    const csv = textsOf(await convert(fileOf('.csv'), {}, fileOf('.show.json')));
    expect(csv).toHaveLength(3);
    expect(csv[0]).toContain('FCM: DROP FRAME');
    expect(textsOf(await convert(fileOf('.xml'), {}, fileOf('.show.json')))).toEqual(csv);
    expect(textsOf(await convert(fileOf('.csv'), {}, fileOf('.show.json')))).toEqual(csv);
  });

  it('passes without a warning', async () => {
    for (const ending of ['.csv', '.xml']) {
      const { lines } = await convert(fileOf(ending), {}, fileOf('.show.json'));
      expect(lines.filter((line) => !line.includes(': note: '))).toEqual([]);
    }
  });

  it('is the same list after a cutlog', async () => {
    const direct = await listOf(fileOf('.csv'), {}, fileOf('.show.json'));
    const [cutlog] = textsOf(await convert(fileOf('.csv'), { to: ['cutlog'] }, fileOf('.show.json')));
    expect(await listOf(cutlog ?? '', {}, fileOf('.show.json'))).toEqual(direct);
  });

  it('is the same EDL from its own OTIO and EDL', async () => {
    const [edl = '', otio = ''] = textsOf(await convert(fileOf('.csv'), { to: ['edl', 'otio'], otio: { base: '/shows', paths: 'relative' } }, fileOf('.show.json')));
    expect(textsOf(await convert(edl, { to: ['edl'] }))).toEqual([edl]);
    expect(textsOf(await convert(otio, { to: ['edl'] }))).toEqual([edl]);
  });
});

const LOG = 'time,action,source,duration\n10:00:00:00,start,,\n10:00:00:00,cut,1,\n10:00:10:00,dissolve,2,25\n10:00:20:00,stop,,\n';
const SHOW = { title: 'Show', rate: '25', recordStart: '02:00:00:00', sources: [{ id: '1', name: 'Wide' }, { id: '2', name: 'Close', aliases: ['CU'] }, { id: 'desk', picture: false }], audio: { from: 'desk', channels: [2, 1] } };
const XML = LOG.trim().split('\n').slice(1).map((line) => line.split(',')).map(([time = '', action = '', source = '', duration = '']) =>
  `<event time="${time}" action="${action}"${source === '' ? '' : ` source="${source}"`}${duration === '' ? '' : ` duration="${duration}"`}/>`).join('\n');

describe('what wins', () => {
  it('of titles: the option, the show, the log, its name', async () => {
    const xml = `<cutlog version="1" rate="25" title="Log">${XML}</cutlog>`;
    expect((await listOf(xml, { title: 'Option' }, SHOW)).title).toBe('Option');
    expect((await listOf(xml, {}, SHOW)).title).toBe('Show');
    expect((await listOf(xml)).title).toBe('Log');
    expect((await listOf(LOG, { rate: rate('25') })).title).toBe('log');
    // Empty ones say nothing.
    expect((await listOf(xml, { title: '' }, { ...SHOW, title: ' ' })).title).toBe('Log');
    expect((await listOf(xml.replace('"Log"', '""'), { title: ' ' })).title).toBe('log');
  });

  it('of rates: the option, the show, the log', async () => {
    const xml = `<cutlog version="1" rate="24">${XML.replace('"25"', '"20"')}</cutlog>`;
    expect((await listOf(xml, { rate: rate('30') }, SHOW)).count.rate.name).toBe('30');
    expect((await listOf(xml, {}, SHOW)).count.rate.name).toBe('25');
    expect((await listOf(xml)).count.rate.name).toBe('24');
    expect((await convert(LOG)).lines.join()).toContain('[bad-rate]');
  });

  it('of record starts: the option, the show, one hour', async () => {
    const start = async (options: Partial<ConvertOptions>, show?: unknown): Promise<string> => {
      const list = await listOf(LOG, { rate: rate('25'), ...options }, show);
      return formatTimecode(list.recordStart, list.count);
    };
    expect(await start({ start: '03:00:00:00' }, SHOW)).toBe('03:00:00:00');
    expect(await start({}, SHOW)).toBe('02:00:00:00');
    expect(await start({})).toBe('01:00:00:00');
  });

  it('of sounds: the option, the show, none', async () => {
    const sound = async (options: Partial<ConvertOptions>, show?: unknown): Promise<unknown> =>
      (await listOf(LOG, { rate: rate('25'), ...options }, show)).audio.map(({ source, channels }) => [source, ...channels]);
    expect(await sound({ audio: 'CU' }, SHOW)).toEqual([['2', 2, 1]]);
    expect(await sound({}, SHOW)).toEqual([['desk', 2, 1]]);
    expect(await sound({ audio: 'none' }, SHOW)).toEqual([]);
    expect(await sound({})).toEqual([]);
    expect(await sound({ audio: '1' })).toEqual([['1', 1, 2]]);
  });

  it('of sounds, in what is said of one that is not there', async () => {
    const said = async (options: Partial<ConvertOptions>): Promise<string | undefined> => {
      const list = new ProblemList();
      // Made by hand: readShowFile would have refused it.
      const show: ShowFile = { rate: '25', audio: { from: 'boom' } };
      await loadList({ name: 'log.csv', bytes: LOG, title: 'log', show: { file: 'show.json', show } }, options, list.add);
      return list.problems.map(problemLine).find((line) => line.includes('unknown-source'));
    };
    expect(await said({})).toMatch(/^show\.json: error: there is no source 'boom'/);
    expect(await said({ audio: 'desk' })).toMatch(/^--audio: error: there is no source 'desk'/);
  });

  it('of mappings: the option, the show', async () => {
    const log = 'when,what,which\n0,TAKE,1\n250,TAKE,2\n';
    const show = { ...SHOW, log: { fields: { time: 'when', action: 'what', source: 'which' }, actions: { TAKE: 'cut' }, timeAs: 'frames' } };
    expect((await listOf(log, { end: '500' }, show)).shots.map(({ out }) => out)).toEqual([250, 500]);
    const map = { ...show.log, timeAs: 'seconds' as const };
    expect((await listOf(log, { end: '500', map }, { ...SHOW, log: { fields: { time: 'gone' } } })).shots.map(({ out }) => out)).toEqual([6250, 12_500]);
  });
});

describe('a list as input', () => {
  it('keeps its title and record start unless told otherwise', async () => {
    const [edl = ''] = textsOf(await convert(LOG, { to: ['edl'] }, SHOW));
    const kept = await listOf(edl, { rate: rate('25') });
    expect([kept.title, formatTimecode(kept.recordStart, kept.count)]).toEqual(['Show', '02:00:00:00']);
    const changed = await listOf(edl, { rate: rate('25'), title: 'Other', start: '00:00:00:00' });
    expect([changed.title, changed.recordStart]).toEqual(['Other', 0]);
    expect((await listOf(edl, { rate: rate('25'), title: '' })).title).toBe('Show');
    expect(changed.shots).toEqual(kept.shots);
  });

  it('is UTF-8 where it is that, whatever the log is in that the show file speaks of', async () => {
    const show = { ...SHOW, sources: [{ id: '1', name: 'Töpfe' }, ...SHOW.sources.slice(1)], log: { encoding: 'windows-1252' } };
    const [otio = ''] = textsOf(await convert(LOG, { to: ['otio'] }, show));
    const [edl = ''] = textsOf(await convert(LOG, { to: ['edl'] }, show));
    const names = async (bytes: Uint8Array, options: LoadOptions, beside?: object): Promise<(string | undefined)[]> => {
      const list = new ProblemList();
      const read = await loadList({ name: 'k', bytes, title: 'k', ...(beside === undefined ? {} : { show: { file: 'show.json', show: showOf(beside) } }) }, { rate: rate('25'), ...options }, list.add);
      return [read?.sources[0]?.name, ...list.problems.filter(({ severity }) => severity === 'error').map(({ code }) => code)];
    };
    const map = { encoding: 'windows-1252' };
    expect(await names(Buffer.from(otio), {}, show)).toEqual(['Töpfe']);
    // Of other makers: in what a mapping says, which is all that it says.
    const [utf8, other] = ['utf8', 'latin1'].map((encoding) => Buffer.from(edl.replace('id=1 name=Topfe', 'id=1 name=Töpfe'), encoding as BufferEncoding)) as [Buffer, Buffer];
    for (const [bytes, options, beside] of [[utf8, {}, show], [utf8, { map }], [other, { map }], [other, {}, show]] as const) expect(await names(bytes, options, beside)).toEqual(['Töpfe']);
    expect(await names(other, {})).toEqual([undefined, 'bad-encoding']);
    expect(await names(utf8, { map: { ...map, timeAs: 'frames' } })).toEqual([undefined, 'bad-option']);
  });

  it('keeps the recordings under its cut', async () => {
    const show = JSON.parse(fileOf('.show.json')) as unknown;
    const first = await convert(fileOf('.csv'), { to: ['otio'], angles: true }, show);
    const [otio = ''] = textsOf(first);
    expect(first.made[0]?.list.angles?.length).toBeGreaterThan(3);
    expect(textsOf(await convert(otio, { to: ['otio'] }))).toEqual([otio]);
    const [plain = ''] = textsOf(await convert(fileOf('.csv'), { to: ['otio'] }, show));
    expect(plain).not.toBe(otio);
    expect(textsOf(await convert(plain, { to: ['otio'] }))[0]).not.toContain('"enabled":false');
  });

  it('refuses options that are for logs', async () => {
    const [edl = ''] = textsOf(await convert(LOG, { to: ['edl'] }, SHOW));
    const { made, lines } = await convert(edl, { rate: rate('25'), end: '10:00:00:00', timeAs: 'timecode' });
    expect(made).toEqual([]);
    expect(lines.filter((line) => line.includes('[bad-option]')).map((line) => line.split(':')[0])).toEqual(['--time-as', '--end']);
  });

  it('gives no cutlog, and says so, and the rest all the same', async () => {
    const [edl = ''] = textsOf(await convert(LOG, { to: ['edl'] }, SHOW));
    const { made, lines } = await convert(edl, { rate: rate('25'), to: ['otio', 'cutlog'] });
    expect(made[0]?.outputs.map(({ format }) => format)).toEqual(['otio']);
    expect(lines.join('\n')).toContain('a cutlog can only be written of a log [bad-option]');
  });
});

describe('separate takes', () => {
  const takes = 'time,action,source\n10:00:00:00,start,\n10:00:00:00,cut,1\n10:00:10:00,stop,\n11:00:00:00,start,\n11:00:00:00,cut,2\n11:00:20:00,stop,\n';

  it('become a list each, and one cutlog', async () => {
    const { made } = await convert(takes, { takes: 'separate', to: ['edl', 'cutlog'], rate: rate('25') });
    expect(made.map(({ name, list, outputs }) => [name, list.frames, outputs.map(({ suffix }) => suffix)])).toEqual([
      ['.take1', 250, ['.edl', '.cutlog.xml']], ['.take2', 500, ['.edl']],
    ]);
  });

  it('are one list when joined, and keep their distance with gaps', async () => {
    expect((await listOf(takes, { rate: rate('25') })).frames).toBe(750);
    expect((await listOf(takes, { rate: rate('25'), takes: 'gaps' })).frames).toBe(3620 * 25);
  });
});

it('rules and corrections have their turn', async () => {
  const cuts = await listOf(LOG, { rate: rate('25'), adjust: { cutsOnly: true } });
  expect(cuts.shots.every(({ transition }) => transition === undefined)).toBe(true);
  const list = new ProblemList();
  const lead = await loadList({ name: 'log.csv', bytes: LOG, title: 'log' }, { rate: rate('25'), adjust: { lead: { all: 10 } } }, list.add);
  expect(lead?.shots.map(({ in: at }) => at)).toEqual([0, 240]);
});

it('a seam between two files is no switch, also in an EDL that is read', async () => {
  const LOG = ['time,action,source', '0,start,', '0,cut,1', '50,cut,2', '100,stop,', ''].join('\n');
  const show = { rate: '25', sources: [{ id: '1' }, { id: '2', files: [{ path: '/b1.mov', start: '00:00:00:00', frames: 53 }, { path: '/b2.mov', start: '00:00:02:03', frames: 500 }] }] };
  const edlOf = ({ made }: Run): string => [...(made[0]?.outputs.find(({ format }) => format === 'edl')?.chunks ?? [])].join('').replaceAll(/^TITLE.*/gm, '');
  const edl = edlOf(await convert(LOG, {}, show));
  expect(edl.match(/^\d{3} /gm)).toHaveLength(3);
  for (const adjust of [{}, { lead: { all: 4 } }, { dissolveAll: 8 }, { minShot: 6 }] as const) {
    expect(edlOf(await convert(edl, { adjust }))).toBe(edlOf(await convert(LOG, { adjust }, show)));
  }
});

describe('where a recording lacks something', () => {
  const LOG = ['time,action,source,duration', '0,start,,', '0,cut,1,', '100,cut,2,', '150,dissolve,1,20', '200,stop,,', '0,start,,', '100,stop,,', ''].join('\n');

  it('the row of the shot is named', async () => {
    const sources = [{ id: '1', files: [{ path: 'a', start: '00:00:00:00', frames: 160 }] }, { id: '2', recorded: false }];
    const { lines } = await convert(LOG, {}, { rate: '25', sources, program: {}, audio: { from: 'none' } });
    const said = lines.filter((line) => /not-recorded|transition-replaced|beyond-recording/.test(line));
    expect(said.map((line) => line.replace(/ the .*\[/, ' ['))).toEqual([
      'log.csv:4:1: warning: [not-recorded]',
      'log.csv:5:1: warning: [beyond-recording]',
      'log.csv:5:1: note: [transition-replaced]',
    ]);
  });

  it('the show file is named for a source with too few starts', async () => {
    const { made, lines } = await convert(LOG, {}, { rate: '25', sources: [{ id: '1', start: ['01:00:00:00', '02:00:00:00'] }, { id: '2', start: '00:00:00:00' }], audio: { from: 'none' } });
    expect(made).toHaveLength(1);
    expect(lines.filter((line) => line.includes('error'))).toEqual([]);
    const third = `${LOG}0,start,,\n0,cut,1,\n100,stop,,\n`;
    const short = await convert(third, {}, { rate: '25', sources: [{ id: '1', start: ['01:00:00:00', '02:00:00:00'] }, { id: '2' }], audio: { from: 'none' } });
    expect(short.lines.filter((line) => line.includes('error'))).toEqual(["show.json: error: source '1' has 2 starts, and it is on air in take 3; give a start for each take [bad-show-file]"]);
  });
});

describe('what a file is', () => {
  it.each([
    ['log', 'time,action,source\n10:00:00:00,cut,1\n'],
    ['log', 'Title: Harbour Kitchen 14\ntime,action,source\n10:00:00:00,cut,1\n'],
    ['log', 'Title: Harbour Kitchen 14\n\n001;10:00:00:00;cut\n'],
    ['log', '<cutlog/>'],
    ['log', '1 2 3\n'],
    ['log', ''],
    ['edl', 'TITLE: Harbour Kitchen 14\n'],
    ['edl', '\uFEFFTITLE: HK\r\nFCM: DROP FRAME\r\n'],
    ['edl', 'title: HK\n\n* RATE: 25\n'],
    ['edl', 'FCM: NON-DROP FRAME\n'],
    ['edl', '1 WIDE V C 10:00:00:00 10:00:10:00 01:00:00:00 01:00:10:00\n'],
    ['edl', 'something else\n000001  WIDE  V  W001 030 10:00:00;00 10:00:10;00 01:00:00;00 01:00:10;00\n'],
    ['otio', ' {"OTIO_SCHEMA": "Timeline.1"}'],
  ])('%s: %j', (form, text) => {
    expect(formOf(text)).toBe(form);
  });
});
