/** Faults to plant: each takes something sound and spoils one thing in it, and knows the code that has to be said. */
import { P25 } from '../support/small.js';
import type { CutList, Shot, Source } from '../../src/cutlist/model.js';
import type { CheckInput, CheckOptions } from '../../src/check/check.js';
import type { Code } from '../../src/problems.js';
import { readShowFile } from '../../src/show/read.js';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { edlOf, otioOf, type Written } from './written.js';

export interface Planted {
  readonly files: readonly (Written & Partial<CheckInput>)[];
  readonly options?: CheckOptions;
  /** The list of the log that the files are held against. */
  readonly against?: CutList;
  readonly code: Code;
  /** Line of the first file on which it has to be said. */
  readonly line?: number;
}

/** Chance: a whole number, 0 ≤ n < `below`. */
export type Dice = (below: number) => number;

/** Spoils a list; undefined where this one offers no place for the fault. */
export type Planter = (list: CutList, dice: Dice) => Planted | undefined;

const EVENT = /^(\d{3}) {2}(.{8}) (.{4}) {2}(.{4}) (\d{3}| {3}) (\S{11}) (\S{11}) (\S{11}) (\S{11})$/;

/** Lines of an EDL that are events of some length, with their index. */
function eventsOf(lines: readonly string[]): { readonly at: number; readonly parts: RegExpExecArray }[] {
  return lines.flatMap((line, at) => {
    const parts = EVENT.exec(line);
    return parts === null || parts[8] === parts[9] ? [] : [{ at, parts }];
  });
}

/** Spoils one event line of the EDL. `from` leaves out the first events. */
function edl(code: Code, spoil: (line: string, parts: readonly string[], list: CutList, dice: Dice) => string | undefined, from = 0, options?: CheckOptions): Planter {
  return (list, dice) => {
    const [file] = edlOf(list);
    if (file === undefined) return undefined;
    const lines = file.text.split('\r\n');
    const events = eventsOf(lines).slice(from);
    const event = events[dice(Math.max(1, events.length))];
    const spoilt = event === undefined ? undefined : spoil(lines[event.at] ?? '', event.parts, list, dice);
    if (event === undefined || spoilt === undefined || spoilt === lines[event.at]) return undefined;
    lines[event.at] = spoilt;
    return { files: [{ ...file, text: lines.join('\r\n') }], code, line: event.at + 1, ...(options === undefined ? {} : { options }) };
  };
}

/** Spoils any text. */
function text(code: Code, make: (list: CutList, dice: Dice) => Written | undefined, spoil: (lines: string[], dice: Dice) => number | undefined): Planter {
  return (list, dice) => {
    const file = make(list, dice);
    if (file === undefined) return undefined;
    const lines = file.text.split(/\r?\n/);
    const at = spoil(lines, dice);
    return at === undefined ? undefined : { files: [{ ...file, text: lines.join('\n') }], code, ...(at < 0 ? {} : { line: at + 1 }) };
  };
}

/** Spoils the object of an OTIO. */
function otio(code: Code, spoil: (timeline: Json, list: CutList, dice: Dice) => boolean): Planter {
  return (list, dice) => {
    const file = otioOf(list);
    const value = JSON.parse(file.text) as Json;
    return spoil(value, list, dice) ? { files: [{ ...file, text: JSON.stringify(value) }], code } : undefined;
  };
}

interface Json { [key: string]: unknown }

const kids = (value: unknown): Json[] => ((value as Json)['children'] ?? []) as Json[];
const tracks = (timeline: Json): Json[] => kids(timeline['tracks']);
const picture = (timeline: Json): Json[] => kids(tracks(timeline)[0]);
const schema = (value: Json): string => String(value['OTIO_SCHEMA']);

/** A show file that knows the sources of a list, and says of each what `more` does. */
export function showOf(list: CutList, more: (source: Source) => object | undefined): Required<Pick<CheckInput, 'show'>> {
  const sources = list.sources.filter(({ id }) => id !== 'program').flatMap((source) => {
    const says = more(source);
    return says === undefined ? [] : [{ id: source.id, name: source.name, ...says }];
  });
  const program = list.sources.some(({ id }) => id === 'program') ? { program: { name: 'Program', reel: 'PGM' } } : {};
  const show = readShowFile(JSON.stringify({ rate: `${list.count.rate.name}${list.count.dropFrame ? 'df' : ''}`, sources, ...program }), 'show.show.json', (found) => { throw new Error(found.message); });
  if (show === undefined) throw new Error('the show file is wrong');
  return { show: { file: 'show.show.json', show } };
}

const onCamera = (list: CutList): Shot[] => list.shots.filter(({ source }) => source !== 'black' && source !== 'program');

/** One label later or earlier by some frames; only inside a minute, so that no dropped label is met. */
function label(given: string, by: number, list: CutList): string | undefined {
  const frames = Number(given.slice(9)) + by;
  const nominal = list.count.rate.nominal;
  return frames < 4 || frames >= nominal ? undefined : `${given.slice(0, 9)}${String(frames).padStart(2, '0')}`;
}

/** A log of the list, and what it reads as: sources in sync, one take. */
export function logOf(list: CutList): string {
  const rows = list.shots.map((shot) => {
    const at = formatTimecode(shot.in, P25);
    const mix = shot.transition;
    return mix === undefined ? `${at},cut,${shot.source},,` : `${at},${mix.kind},${shot.source},${String(mix.frames)},${mix.kind === 'wipe' ? String(mix.wipe ?? 0) : ''}`;
  });
  return ['time,action,source,duration,wipe', '00:00:00:00,start,,,', ...rows, `${formatTimecode(list.frames, P25)},stop,,,`].join('\n');
}

const log = (code: Code, spoil: (lines: string[], dice: Dice) => number | undefined): Planter => (list, dice) => {
  const planted = text(code, () => ({ name: 'show.csv', text: logOf(list) }), spoil)(list, dice);
  return planted === undefined ? undefined : { ...planted, options: { load: { rate: { rate: P25.rate, dropFrame: false } } } };
};

const row = (lines: readonly string[], dice: Dice): number => 2 + dice(lines.length - 3);

export const IN_EDL: Readonly<Record<string, Planter>> = {
  'a frame number that the rate has not': edl('bad-time', (line, parts, list) => line.replace(parts[8] ?? '', `${(parts[8] ?? '').slice(0, 9)}${String(list.count.rate.nominal)}`)),
  'an hour that no day has': edl('bad-time', (line, parts) => line.replace(parts[7] ?? '', `24${(parts[7] ?? '').slice(2)}`)),
  'a label that drop-frame skips': edl('dropped-label', (line, parts, list) => (list.count.dropFrame ? line.replace(parts[8] ?? '', '01:01:00;00') : undefined)),
  'a source side that is a frame longer': edl('length-differs', (line, parts, list) => {
    const out = label(parts[7] ?? '', 1, list);
    return (parts[2] ?? '').trim() === 'BL' || out === undefined ? undefined : `${line.slice(0, 41)}${out}${line.slice(52)}`;
  }),
  'a speed line that does not explain the source side': edl('length-differs', (line, parts, list) => {
    const [reel = '', into = ''] = [parts[2], parts[6]];
    const shot = list.shots.find((one) => formatTimecode(list.recordStart + one.in, list.count) === parts[8]);
    const long = shot !== undefined && shot.out - shot.in > 30;
    return reel.trim() === 'BL' || (parts[4] ?? '').trim() !== 'C' || !long ? undefined : `${line}\r\nM2   ${reel}  005.0                ${into.replace(';', ':')}`;
  }),
  'a hole on the record side': edl('hole', (line, parts, list) => {
    const [source, record] = [label(parts[6] ?? '', 2, list), label(parts[8] ?? '', 2, list)];
    return source === undefined || record === undefined || record >= (parts[9] ?? '') || (parts[4] ?? '').trim() !== 'C' ? undefined : `${line.slice(0, 29)}${source} ${parts[7] ?? ''} ${record} ${parts[9] ?? ''}`;
  }, 1),
  'two events that overlap': edl('overlap', (line, parts, list) => {
    const [source, record] = [label(parts[6] ?? '', -1, list), label(parts[8] ?? '', -1, list)];
    return source === undefined || record === undefined || (parts[4] ?? '').trim() !== 'C' ? undefined : `${line.slice(0, 29)}${source} ${parts[7] ?? ''} ${record} ${parts[9] ?? ''}`;
  }, 1),
  'an event that is gone': (list) => {
    const [file] = edlOf(list);
    const lines = file?.text.split('\r\n') ?? [];
    const numbers = [...new Set(eventsOf(lines).map(({ parts }) => parts[1] ?? ''))];
    const gone = numbers[1];
    if (file === undefined || gone === undefined || numbers.length < 3) return undefined;
    const [first, last] = [lines.findIndex((line) => line.startsWith(`${gone}  `)), lines.findIndex((line) => line.startsWith(`${numbers[2] ?? ''}  `))];
    return { files: [{ ...file, text: [...lines.slice(0, first), ...lines.slice(last)].join('\r\n') }], code: 'hole' };
  },
  'an event number that is there twice': edl('event-number', (line, parts) => ((parts[4] ?? '').trim() === 'C' ? `001${line.slice(3)}` : undefined), 1),
  'an event number that is missing': edl('event-number', (line, parts) => ((parts[4] ?? '').trim() === 'C' ? `${String(Number(parts[1]) + 500)}${line.slice(3)}` : undefined), 1),
  'a mix that runs into the next event': edl('transition-cut-short', (line, parts, list) => {
    const shot = list.shots.find((one) => one.transition !== undefined);
    return (parts[4] ?? '').trim() === 'C' || shot === undefined ? undefined : `${line.slice(0, 25)}999${line.slice(28)}`;
  }),
  'a mix longer than the classic field': (list, dice) => {
    const long = list.shots.findIndex((shot, index) => index > 0 && shot.out - shot.in > 300);
    if (long === -1) return undefined;
    const frames = 256 + dice(40);
    const shots = list.shots.map((shot, index): Shot => (index === long ? { ...shot, transition: { kind: 'dissolve', frames, inOffset: 0 } } : shot));
    return { files: edlOf({ ...list, shots, audio: [] }), code: 'long-transition' };
  },
  'a channel code that does not exist': edl('bad-event', (line) => `${line.slice(0, 14)}Q${line.slice(15)}`),
  'a sound channel that does not exist': edl('bad-event', (line) => `${line.slice(0, 14)}A9  ${line.slice(18)}`),
  'a kind of edit that does not exist': edl('bad-event', (line) => `${line.slice(0, 20)}X${line.slice(21)}`),
  'a letter in a label': edl('bad-event', (line) => `${line.slice(0, 53)}O${line.slice(54)}`),
  'a line with tabs': edl('outside-format', (line) => line.replace('  ', '\t')),
  'a column that slipped': edl('outside-format', (line) => line.replace(/ {2}(\S)/, ' $1')),
  'a reel that is too long': edl('outside-format', (line) => `${line.slice(0, 5)}EIGHTISTOOSHORT${line.slice(13)}`),
  'a title that is too long': text('outside-format', (list) => edlOf(list)[0], (lines) => { lines[0] = `TITLE: ${'Harbour Kitchen '.repeat(6)}`; return 0; }),
  'a letter beyond ASCII': text('outside-format', (list) => edlOf(list)[0], (lines) => { lines[0] = 'TITLE: Hafenküche'; return 0; }),
  'two clips on one reel at one time': edl('reel-taken', (line, parts) => ((parts[2] ?? '').trim() === 'BL' ? undefined : [
    line, '* FROM CLIP NAME: One clip', `900${line.slice(3, 53)}${parts[9] ?? ''} ${parts[9] ?? ''}`, '* FROM CLIP NAME: Another clip',
  ].join('\r\n'))),
};

/** This one needs an event that is added behind the others. */
export const TWO_CLIPS: Planter = (list) => {
  const [file] = edlOf({ ...list, markers: [] });
  const lines = file?.text.split('\r\n') ?? [];
  const event = eventsOf(lines).find(({ parts }) => parts[2]?.trim() !== 'BL' && parts[3]?.trim() === 'V' && parts[4]?.trim() === 'C');
  const last = eventsOf(lines).at(-1);
  if (file === undefined || event === undefined || last === undefined) return undefined;
  const { parts } = event;
  const length = list.shots.find((shot) => formatTimecode(list.recordStart + shot.in, list.count) === parts[8]);
  if (length === undefined) return undefined;
  const end = formatTimecode(list.recordStart + list.frames + length.out - length.in, list.count);
  const added = `${String(Number(last.parts[1]) + 1).padStart(3, '0')}  ${parts[2] ?? ''} V     C        ${parts[6] ?? ''} ${parts[7] ?? ''} ${last.parts[9] ?? ''} ${end}`;
  return { files: [{ ...file, text: [...lines.filter((line) => line !== ''), added, '* FROM CLIP NAME: Another clip altogether', ''].join('\r\n') }], code: 'reel-taken' };
};

export const IN_LISTS: Readonly<Record<string, Planter>> = {
  'a shot that is too short': (list) => {
    const least = Math.min(...list.shots.map((shot) => shot.out - shot.in));
    return { files: [otioOf(list)], options: { minShot: least + 1 }, code: 'short-shot' };
  },
  'a source that the show file lacks': (list) => {
    const [shot] = onCamera(list);
    return shot === undefined ? undefined : { files: [{ ...otioOf(list), ...showOf(list, ({ id }) => (id === shot.source ? undefined : {})) }], code: 'unknown-source' };
  },
  'a source that was not recorded': (list) => {
    const [shot] = onCamera(list);
    return shot === undefined ? undefined : { files: [{ ...otioOf(list), ...showOf(list, ({ id }) => ({ recorded: id !== shot.source })) }], code: 'not-recorded' };
  },
  'a recording that ends too early': (list) => {
    const [shot] = onCamera(list).filter(({ sourceOut, sourceIn }) => sourceIn >= 0 && sourceOut < 2_000_000);
    if (shot === undefined || list.shots.filter(({ source }) => source === shot.source).length !== 1) return undefined;
    const start = formatTimecode(shot.sourceIn, list.count);
    return { files: [{ ...otioOf(list), ...showOf(list, ({ id }) => (id === shot.source ? { files: [{ path: 'a.mov', start, frames: shot.sourceOut - shot.sourceIn - 1 }] } : {})) }], code: 'beyond-recording' };
  },
  'a mix without media behind the cut': (list) => {
    const index = list.shots.findIndex((shot, at) => at > 0 && shot.transition !== undefined && onCamera(list).includes(list.shots[at - 1] as Shot) && list.shots[at - 1]?.source !== shot.source);
    const before = list.shots[index - 1];
    if (before === undefined || list.shots.filter(({ source }) => source === before.source).length !== 1) return undefined;
    const start = formatTimecode(before.sourceIn, list.count);
    return { files: [{ ...otioOf({ ...list, audio: [] }), ...showOf(list, ({ id }) => (id === before.source ? { files: [{ path: 'a.mov', start, frames: before.sourceOut - before.sourceIn }] } : {})) }], code: 'short-handle' };
  },
  'a recording that is not there': (list) => ({ files: [otioOf(list)], options: { isThere: (path) => !path.includes('source 1.mov') }, code: 'missing-file' }),
  'one reel for two sources': (list) => {
    const used = [...new Set(onCamera(list).map(({ source }) => source))];
    if (used.length < 2) return undefined;
    return { files: [{ name: 'show.show.json', text: JSON.stringify({ rate: '25', sources: list.sources.filter(({ id }) => id !== 'program').map(({ id, name }) => ({ id, name, reel: 'ONE' })) }) }], code: 'reel-taken' };
  },
  'an OTIO that says something else than its EDL': (list, dice) => {
    const index = dice(list.shots.length);
    const other = list.sources.find(({ id }) => id !== list.shots[index]?.source);
    if (other === undefined) return undefined;
    const shots = list.shots.map((shot, at): Shot => (at === index ? { ...shot, source: other.id, sourceIn: 0, sourceOut: shot.out - shot.in, file: 0 } : shot));
    return { files: [otioOf({ ...list, shots, audio: [] }), ...edlOf({ ...list, audio: [] })], code: 'lists-differ' };
  },
  'a part of an EDL that does not follow': (list) => {
    const [file] = edlOf({ ...list, audio: [], markers: [] });
    return file === undefined ? undefined : { files: [{ ...file, name: 'show-1.edl' }, { ...file, name: 'show-2.edl' }], code: list.frames > 2 ? 'overlap' : 'hole' };
  },
};

export const IN_OTIO: Readonly<Record<string, Planter>> = {
  'a file that breaks off': (list, dice) => {
    const file = otioOf(list);
    return { files: [{ ...file, text: file.text.slice(0, 30 + dice(file.text.length - 40)) }], code: 'bad-otio' };
  },
  'a clip without schema': otio('bad-otio', (timeline) => {
    const clip = picture(timeline)[0];
    if (clip !== undefined) clip['OTIO_SCHEMA'] = 5;
    return clip !== undefined;
  }),
  'a range that is text': otio('bad-otio', (timeline) => {
    const clip = picture(timeline).find((item) => schema(item).startsWith('Clip'));
    if (clip !== undefined) clip['source_range'] = 'all of it';
    return clip !== undefined;
  }),
  'a clip without frames': otio('bad-otio', (timeline) => {
    const items = picture(timeline);
    const at = items.findIndex((item) => schema(item).startsWith('Clip'));
    const range = items[at]?.['source_range'] as Json | undefined;
    if (range === undefined) return false;
    items.splice(at + 1, 0, { ...items[at], source_range: { ...range, duration: { ...(range['duration'] as Json), value: 0 } } });
    return true;
  }),
  'a clip that ends between two frames': otio('bad-otio', (timeline) => {
    const clip = picture(timeline).find((item) => schema(item).startsWith('Clip'));
    const duration = (clip?.['source_range'] as Json | undefined)?.['duration'] as Json | undefined;
    if (duration !== undefined) duration['value'] = Number(duration['value']) + 0.5;
    return duration !== undefined;
  }),
  'picture that ends before the sound': otio('hole', (timeline) => {
    const items = picture(timeline);
    if (items.filter((item) => !schema(item).startsWith('Transition')).length < 2) return false;
    ((timeline['tracks'] as Json)['children'] as Json[]).push({ ...tracks(timeline)[0], kind: 'Audio', name: 'A1', children: [...items] });
    items.pop();
    if (schema(items.at(-1) ?? {}).startsWith('Transition')) items.pop();
    return true;
  }),
  'a transition longer than a clip beside it': otio('transition-cut-short', (timeline) => {
    const transition = picture(timeline).find((item) => schema(item).startsWith('Transition'));
    const offset = transition?.['out_offset'] as Json | undefined;
    if (offset !== undefined) offset['value'] = 100_000;
    return offset !== undefined;
  }),
  'media that ends before its clip': otio('beyond-recording', (timeline) => {
    const clips = picture(timeline).filter((item) => schema(item).startsWith('Clip'));
    const media = (clip: Json | undefined): Json | undefined => (clip?.['media_references'] as Json | undefined)?.['DEFAULT_MEDIA'] as Json | undefined;
    const [first] = clips;
    const range = first?.['source_range'] as Json | undefined;
    const url = media(first)?.['target_url'];
    if (range === undefined || url === undefined) return false;
    // As another program would write it: what linecut notes of its sources itself would count first.
    timeline['metadata'] = {};
    const [start, duration] = [range['start_time'] as Json, range['duration'] as Json];
    for (const clip of clips) {
      const own = media(clip);
      if (own?.['target_url'] === url) own['available_range'] = { ...range, start_time: { ...start, value: Number(start['value']) + Number(duration['value']) + 1000 } };
    }
    return true;
  }),
};

export const IN_CHAPTERS: Readonly<Record<string, (files: { readonly text: Written; readonly webvtt: Written; readonly ffmetadata: Written; readonly matroska: Written }) => Planted | undefined>> = {
  'chapters out of order': ({ text: file }) => {
    const lines = file.text.trimEnd().split('\n');
    return { files: [{ ...file, text: [`0:00:09 Later`, '0:00:03 Earlier', ...lines].join('\n') }], code: 'chapter-order', line: 2 };
  },
  'a chapter with 61 seconds': ({ text: file }) => ({ files: [{ ...file, text: `${file.text}0:01:61 Too far\n` }], code: 'bad-time' }),
  'WebVTT cues out of order': ({ webvtt: file }) => ({ files: [{ ...file, text: `${file.text}\n00:50:00.000 --> 00:51:00.000\nb\n\n00:10:00.000 --> 00:11:00.000\na\n` }], code: 'chapter-order' }),
  'a WebVTT cue that ends before it begins': ({ webvtt: file }) => ({ files: [{ ...file, text: `${file.text}\n00:50:00.000 --> 00:49:00.000\nb\n` }], code: 'chapter-order' }),
  'a WebVTT time that is none': ({ webvtt: file }) => ({ files: [{ ...file, text: `${file.text}\n00:50:00 --> 00:51:00.000\nb\n` }], code: 'bad-time' }),
  'FFmpeg metadata without an end': ({ ffmetadata: file }) => ({ files: [{ ...file, text: `${file.text}\n[CHAPTER]\nSTART=5\ntitle=x\n` }], code: 'bad-time' }),
  'FFmpeg metadata out of order': ({ ffmetadata: file }) => ({ files: [{ ...file, text: `${file.text}\n[CHAPTER]\nTIMEBASE=1/1\nSTART=9000\nEND=9001\n[CHAPTER]\nTIMEBASE=1/1\nSTART=10\nEND=11\n` }], code: 'chapter-order' }),
  'Matroska XML that breaks off': ({ matroska: file }) => ({ files: [{ ...file, text: file.text.replace('</Chapters>', '') }], code: 'malformed-xml' }),
  'a Matroska time that is none': ({ matroska: file }) => ({ files: [{ ...file, text: file.text.replace(/<ChapterTimeStart>[^<]*/, '<ChapterTimeStart>soon') }], code: 'bad-time' }),
};

export const IN_LOGS: Readonly<Record<string, Planter>> = {
  'an action that does not exist': log('unknown-action', (lines, dice) => { const at = row(lines, dice); lines[at] = (lines[at] ?? '').replace(/,(cut|dissolve|wipe),/, ',jump,'); return at; }),
  'a time that is none': log('bad-time', (lines, dice) => { const at = row(lines, dice); lines[at] = `10:61:00:00${(lines[at] ?? '').slice(11)}`; return at; }),
  'a switch to nothing': log('missing-source', (lines, dice) => { const at = row(lines, dice); lines[at] = `${(lines[at] ?? '').slice(0, 11)},cut,,,`; return at; }),
  'a duration that is none': log('bad-duration', (lines, dice) => { const at = row(lines, dice); lines[at] = `${(lines[at] ?? '').slice(0, 11)},dissolve,1,soon,`; return at; }),
  'rows out of order': log('out-of-order', (lines) => {
    if (lines.length < 5) return undefined;
    [lines[2], lines[3]] = [lines[3] ?? '', lines[2] ?? ''];
    return 3;
  }),
  'a quote that is not closed': log('malformed-csv', (lines, dice) => { const at = row(lines, dice); lines[at] = `"${lines[at] ?? ''}`; return -1; }),
};
