import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyCorrections } from '../../src/corrections/apply.js';
import { OPERATIONS } from '../../src/corrections/model.js';
import { readCorrections } from '../../src/corrections/read.js';
import { BLACK, type AudioPiece, type CutList, type Shot } from '../../src/cutlist/model.js';
import { listFaults } from '../../src/cutlist/validate.js';
import { problemLine, ProblemList } from '../../src/problems.js';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { camera, listOf, textOf } from '../support/small.js';
import { anyList } from '../support/synced.js';

/** Applies a file; what was reported comes back as lines. */
function correct(list: CutList, text: string): { list: CutList | undefined; said: string[] } {
  const problems = new ProblemList();
  const corrections = readCorrections(text, 'fix.csv', problems.add);
  const out = corrections === undefined ? undefined : applyCorrections(list, corrections, problems.add);
  if (out !== undefined) expect(listFaults(out)).toEqual([]);
  return { list: out, said: problems.problems.map(problemLine) };
}

const words = (cells: string): string[] => Array.from(cells.matchAll(/`([A-Za-z-]+)`/g), ([, word = '']) => word);

/** The result in short, or what was said. */
function result(list: CutList, ...rows: string[]): string {
  const { list: out, said } = correct(list, rows.join('\n'));
  return out === undefined ? said.join('\n') : textOf(out);
}

/** What is heard when, and the frames of what it comes on by. */
const soundOf = ({ audio }: CutList): string =>
  audio.map(({ source, in: into, out, transition }) => `${source}:${String(into)}-${String(out)}${transition === undefined ? '' : `d${String(transition.frames)}`}`).join(' ');

/** The same list as its log would give it: its takes know where they lie in the log. */
const fromLog = (list: CutList): CutList => ({ ...list, takes: list.takes.map((take) => ({ ...take, origin: 'timecode' as const })) });

const show = listOf('1:100 2:50d10 3:50 1:100');

describe('operations', () => {
  it('source: another camera, in sync with the log', () => {
    expect(result(fromLog(show), 'do,at,expect,source', 'source,01:00:04:00,2,4')).toBe('1:100 4:50d10 3:50 1:100');
    expect(result(show, 'do,shot,was,expect,source,sourceIn', 'source,2,50,Camera 2,4,01:00:05:00')).toBe('1:100 4:50d10@25 3:50 1:100');
    expect(result(show, 'do,at,expect,source', 'source,01:00:04:00,2,black')).toBe('1:100 black:50d10 3:50 1:100');
  });

  it('source: in a list without a log, where its neighbours say it was', () => {
    const { list, said } = correct(show, 'do,at,expect,source\nsource,01:00:04:00,2,1');
    expect(list === undefined ? '' : textOf(list)).toBe('1:100 1:50d10 3:50 1:100');
    expect(said).toEqual(['fix.csv:2: note: source: Camera 1 (1) is at 01:00:04:00 there, going by shot 1 and shot 4; give sourceIn to say otherwise [found]']);
    expect(result(show, 'do,at,expect,source', 'source,01:00:04:00,2,4')).toContain('nothing says where Camera 4 (4) was');
    expect(result(listOf('1:100 2:50 1:50@7'), 'do,at,expect,source', 'source,01:00:04:00,2,1')).toContain('nothing says where Camera 1 (1) was');
  });

  it('start: earlier or later, by frames or to a timecode', () => {
    for (const to of ['12 earlier', '-12', '01:00:03:13', '12f earlier', '12 frames earlier']) {
      expect(result(show, 'do,at,expect,to', `start,01:00:04:00,2,${to}`), to).toBe('1:88 2:62d10 3:50 1:100');
    }
    expect(result(show, 'do,at,expect,to', 'start,01:00:04:00,2,+5')).toBe('1:105 2:45d10 3:50 1:100');
    expect(result(show, 'do,at,expect,to', 'start,01:00:04:00,2,45 later')).toBe('1:145 2:5d5 3:50 1:100');
    expect(result(show, 'do,at,expect,to', 'start,01:00:04:00,2,5')).toContain("to is '5'; write '5 later', '5 earlier' or a timecode");
    for (const to of ['5 eralier', '5erlier', 'soon', '5,later']) {
      expect(result(show, 'do,at,expect,to', `start,01:00:04:00,2,"${to}"`), to).toBe(`fix.csv:2: error: start: to is '${to}'; write '5 later', '5 earlier' or a timecode [bad-corrections]`);
    }
    expect(result(show, 'do,at,expect,to', 'start,01:00:04:00,2,01:00:04:25')).toContain('01:00:04:25');
    expect(result(show, 'do,at,expect,to', 'start,01:00:04:00,2,50 later')).toContain('shot 2 is Camera 2 (2) from 01:00:04:00, and would have no frames left; remove it if that is meant');
    expect(result(show, 'do,at,expect,to', 'start,01:00:00:00,1,5 later')).toContain('shot 1 begins the list');
  });

  it('dissolve, wipe, cut', () => {
    expect(result(show, 'do,at,expect,frames', 'dissolve,01:00:06:00,3,25')).toBe('1:100 2:50d10 3:50d25 1:100');
    expect(result(show, 'do,at,expect,frames,wipe', 'wipe,01:00:06:00,3,25,17')).toBe('1:100 2:50d10 3:50w25 1:100');
    expect(result(show, 'do,at,expect', 'cut,01:00:04:00,2')).toBe('1:100 2:50 3:50 1:100');
    expect(result(show, 'do,at,expect', 'cut,01:00:06:00,3')).toContain('is a cut already [correction-mismatch]');
    expect(result(show, 'do,at,expect,frames', 'dissolve,01:00:06:00,3,51')).toContain('a mix of 51 frames does not fit a shot of 50');
  });

  it('remove gives the frames to the shot before, the first shot\'s to the next', () => {
    expect(result(show, 'do,at,expect', 'remove,01:00:06:00,3')).toBe('1:100 2:100d10 1:100');
    expect(result(show, 'do,at,expect', 'remove,01:00:04:00,2', 'remove,01:00:06:00,3')).toBe('1:200 1:100');
    expect(result(show, 'do,at,expect', 'remove,01:00:00:00,1')).toBe('2:150 3:50 1:100');
    expect(result(show, 'do,at,expect,frames', 'remove,01:00:00:00,1,', 'dissolve,01:00:04:00,2,8')).toBe('2:150d8 3:50 1:100');
    expect(result(show, 'do,at,expect,frames', 'length,01:00:00:00,1,0')).toBe('2:50@100 3:50@100 1:100@100');
    expect(result(listOf('1:100d10 2:50d10'), 'do,at,expect', 'remove,01:00:04:00,2')).toBe('1:150d10');
    expect(result(listOf('1:100'), 'do,at,expect', 'remove,01:00:00:00,1')).toContain('nothing is left');
  });

  it('insert takes its frames from what it covers', () => {
    expect(result(fromLog(show), 'do,at,expect,source,frames', 'insert,01:00:01:00,1,4,25')).toBe('1:25 4:25 1:50 2:50d10 3:50 1:100');
    expect(result(fromLog(show), 'do,at,expect,source,frames,mix', 'insert,01:00:03:00,1,4,50,5')).toBe('1:75 4:50d5 2:25d10 3:50 1:100');
    expect(result(fromLog(show), 'do,at,expect,source,frames', 'insert,01:00:03:00,1,4,150')).toBe('1:75 4:150 1:75');
    expect(result(fromLog(show), 'do,at,expect,source,frames', 'insert,01:00:11:00,1,4,50')).toContain('reaches past the end of the list; only length changes the running time');
    expect(result(fromLog(show), 'do,at,expect,source,frames', 'insert,01:00:01:00,1,4,25', 'insert,01:00:01:10,1,3,25')).toContain('begins before what the correction on line 2 inserts ends');
  });

  it('insert, source, sound: from the file that shots beside it play from, or that holds the frame; else it is said that nobody knows', () => {
    const files = ['m/b1.mov', 'm/b2.mov'].map((path) => ({ path }));
    const base = listOf('1:100 2:100 1:100 2:100');
    const list: CutList = {
      ...base,
      sources: base.sources.map((source) => (source.id === '2' ? { ...source, files } : source)),
      shots: base.shots.map((shot, index) => (shot.source === '2' ? { ...shot, file: index === 1 ? 0 : 1 } : shot)),
    };
    const at = (...rows: string[]): { files: (number | undefined)[]; said: string[] } => {
      const { list: out, said } = correct(list, ['do,at,expect,source,frames,sourceIn', ...rows].join('\n'));
      return { files: (out?.shots ?? []).filter(({ source }) => source === '2').map(({ file }) => file), said };
    };
    // In a frame that the list plays of a file, whatever lies beside it.
    expect(at('insert,01:00:01:00,1,2,25,01:00:05:00')).toEqual({ files: [0, 0, 1], said: [] });
    expect(at('source,01:00:00:00,1,2,,01:00:13:00')).toEqual({ files: [1, 0, 1], said: [] });
    expect(at('insert,01:00:01:00,1,2,25,')).toEqual({ files: [0, 0, 1], said: [
      'fix.csv:2: note: insert: Camera 2 (2) is at 01:00:01:00 there, going by shot 2 and shot 4; give sourceIn to say otherwise [found]',
      'fix.csv:2: note: insert: Camera 2 (2) at 01:00:01:00 is taken from m/b1.mov, of which the list plays the nearest frames [found]',
    ] });
    expect(at('insert,01:00:09:00,1,2,25,01:00:09:00')).toEqual({ files: [0, undefined, 1], said: [
      'fix.csv:2: warning: insert: Camera 2 (2) at 01:00:09:00 names no file: the source has 2, and nothing says which of them holds that frame [unplaced-file]',
    ] });
    // Beside shots that agree.
    const one = { ...list, shots: list.shots.map((shot) => (shot.source === '2' ? { ...shot, file: 1 } : shot)) };
    const { list: out, said } = correct(one, 'do,at,expect,source,frames\ninsert,01:00:09:00,1,2,25');
    expect(out?.shots.map(({ file }) => file)).toEqual([undefined, 1, undefined, 1, undefined, 1]);
    expect(said).toHaveLength(1);
    // Files that all begin at zero: their labels say nothing.
    const zero = { ...list, shots: list.shots.map((shot, index) => (index === 3 ? { ...shot, sourceIn: 90_100, sourceOut: 90_200 } : shot)) };
    expect(correct(zero, 'do,at,expect,source,frames,sourceIn\ninsert,01:00:09:00,1,2,25,01:00:05:00').said.join('')).toContain('[unplaced-file]');
    expect(correct(list, 'do,at,expect,source,frames,sourceIn\nsound,01:00:01:00,none,2,25,01:00:05:00').list?.audio.map(({ file }) => file)).toEqual([0]);
  });

  it('insert, source, sound: said where the list plays the last frames from another file', () => {
    const files = ['m/b1.mov', 'm/b2.mov', 'm/b3.mov'].map((path) => ({ path }));
    const base = listOf('1:300 2:100');
    // Picture of the third file, sound of all of them under everything.
    const heard = (file: number, into: number, out: number): AudioPiece => ({ source: '2', file, in: into, out, sourceIn: 90_000 + into, sourceOut: 90_000 + out, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false });
    const list: CutList = {
      ...base,
      sources: base.sources.map((source) => (source.id === '2' ? { ...source, files } : source)),
      shots: base.shots.map((shot) => (shot.source === '2' ? { ...shot, file: 2 } : shot)),
      audio: [heard(0, 0, 100), heard(1, 100, 200), heard(2, 200, 400)],
    };
    const at = (...rows: string[]): { files: (number | undefined)[]; said: string[] } => {
      const { list: out, said } = correct(list, ['do,at,expect,source,frames,sourceIn', ...rows].join('\n'));
      return { files: (out?.shots ?? []).filter(({ source }) => source === '2').map(({ file }) => file), said };
    };
    const said = (what: string, from: string, file: string, seam: string, other: string): string =>
      `fix.csv:2: warning: ${what}: Camera 2 (2) at ${from} is taken from ${file}, but from ${seam} on the list plays ${other}; correct what lies in each file for itself [unplaced-file]`;
    expect(at('insert,01:00:07:00,1,2,50,01:00:07:00')).toEqual({ files: [1, 2], said: [said('insert', '01:00:07:00', 'm/b2.mov', '01:00:08:00', 'm/b3.mov')] });
    // Each file's part for itself: what is played says more than the shot beside it, which is of the third file.
    expect(at('insert,01:00:07:00,1,2,25,01:00:07:00', 'insert,01:00:08:00,1,2,25,01:00:08:00')).toEqual({ files: [1, 2, 2], said: [] });
    expect(at('insert,01:00:05:00,1,2,25,').files).toEqual([1, 2]);
    expect(at('source,01:00:00:00,1,2,,01:00:01:00')).toEqual({ files: [0, 2], said: [said('source', '01:00:01:00', 'm/b1.mov', '01:00:04:00', 'm/b2.mov')] });
    expect(at('sound,01:00:00:00,2,2,50,01:00:03:00').said).toEqual([said('sound', '01:00:03:00', 'm/b1.mov', '01:00:04:00', 'm/b2.mov')]);
    expect(at('sound,01:00:00:00,2,2,25,01:00:03:00').said).toEqual([]);
  });

  it('length changes the running time, and everything behind keeps its source points', () => {
    const longer = correct(show, 'do,at,expect,to\nlength,01:00:04:00,2,10 longer').list as CutList;
    expect(textOf(longer)).toBe('1:100 2:60d10 3:50@-10 1:100@-10');
    expect(longer.frames).toBe(310);
    expect(result(show, 'do,at,expect,to', 'length,01:00:04:00,2,45 shorter')).toBe('1:100 2:5d5 3:50@45 1:100@45');
    expect(result(show, 'do,at,expect,frames', 'length,01:00:04:00,2,60')).toBe('1:100 2:60d10 3:50@-10 1:100@-10');
    expect(result(show, 'do,at,expect,frames', 'length,01:00:04:00,2,0')).toBe('1:100 3:50@50 1:100@50');
    expect(result(show, 'do,at,expect,to', 'length,01:00:04:00,2,10')).toContain("write '10 longer' or '10 shorter'");
    expect(result(show, 'do,at,expect,to', 'length,01:00:04:00,2,51 shorter')).toContain('has only 50 frames');
  });

  it('length keeps sound of its own in sync with the picture over it, and markers on their picture', () => {
    const desk = { source: '4', in: 0, out: 300, sourceIn: 90_000, sourceOut: 90_300, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false };
    const list = { ...show, audio: [desk], markers: [{ at: 40, note: 'a' }, { at: 145, note: 'b' }, { at: 250, note: 'c' }] };
    const longer = correct(list, 'do,at,expect,to\nlength,01:00:04:00,2,10 longer').list as CutList;
    expect(longer.audio.map((piece) => [piece.in, piece.out, piece.sourceIn, piece.sourceOut])).toEqual([[0, 160, 90_000, 90_160], [160, 310, 90_150, 90_300]]);
    expect(longer.markers.map(({ at }) => at)).toEqual([40, 145, 260]);
    const shorter = correct(list, 'do,at,expect,to\nlength,01:00:04:00,2,10 shorter').list as CutList;
    expect(shorter.audio.map((piece) => [piece.in, piece.out, piece.sourceIn, piece.sourceOut])).toEqual([[0, 140, 90_000, 90_140], [140, 290, 90_150, 90_300]]);
    expect(shorter.markers.map(({ at }) => at)).toEqual([40, 140, 240]);
  });

  it('length leaves the log\'s clock right behind it: a source put in later is in sync', () => {
    expect(result(fromLog(show), 'do,at,expect,to,source', 'length,01:00:04:00,2,10 longer,', 'source,01:00:06:00,3,,4')).toBe('1:100 2:60d10 / 4:50@-10 1:100@-10');
  });

  it('markers, title, record start', () => {
    const list = { ...show, markers: [{ at: 40, note: 'The stock' }, { at: 145, note: 'Wine' }] };
    const out = correct(list, ['do,at,expect,to,note', 'rename-marker,01:00:01:15,The stock,,The stock boils', 'move-marker,01:00:05:20,Wine,01:00:06:00,', 'add-marker,01:00:00:00,,,Hello',
      'title,,Harbour Kitchen 14,Harbour Kitchen 14 v2,', 'record-start,,01:00:00:00,10:00:00:00,'].join('\n')).list as CutList;
    expect(out.markers).toEqual([{ at: 0, note: 'Hello' }, { at: 40, note: 'The stock boils' }, { at: 150, note: 'Wine' }]);
    expect([out.title, out.recordStart]).toEqual(['Harbour Kitchen 14 v2', 900_000]);
    expect(result(list, 'do,at,expect,note', 'rename-marker,01:00:01:15,The soup,x')).toContain("it expects the marker 'The soup' at 01:00:01:15, and there is 'The stock' [correction-mismatch]");
    expect(result(list, 'do,at,expect', 'remove-marker,01:00:01:16,The stock')).toContain('and there is no marker [correction-mismatch]');
  });

  it('a marker can be moved and renamed, in either order; one of several alike only once', () => {
    const list = { ...show, markers: [{ at: 40, note: 'boil' }, { at: 90, note: 'Wine' }, { at: 90, note: 'Wine' }] };
    const head = 'do,at,expect,to,note';
    const rows = ['rename-marker,01:00:01:15,boil,,stir', 'move-marker,01:00:01:15,boil,01:00:06:00,', 'rename-marker,01:00:03:15,Wine,,Red', 'move-marker,01:00:03:15,Wine,01:00:04:00,'];
    const wanted = [{ at: 90, note: 'Red' }, { at: 100, note: 'Wine' }, { at: 150, note: 'stir' }];
    expect(correct(list, [head, ...rows].join('\n')).list?.markers).toEqual(wanted);
    expect(correct(list, [head, ...rows.reverse()].join('\n')).list?.markers).toEqual(wanted);
    const said = (...more: string[]): string => correct(list, [head, ...more].join('\n')).said.join();
    expect(said('rename-marker,01:00:01:15,boil,,stir', 'rename-marker,01:00:01:15,boil,,fry')).toBe('fix.csv:3: error: rename-marker: the correction on line 2 corrects the same of this marker [bad-corrections]');
    expect(said('move-marker,01:00:01:15,boil,0,', 'remove-marker,01:00:01:15,boil,,')).toContain('remove-marker: the marker is removed, and corrected otherwise as well [bad-corrections]');
    expect(said(...rows, 'remove-marker,01:00:03:15,Wine,,')).toContain('there are 2 such markers, and a correction of each already [bad-corrections]');
  });

  it('sound: laid over what was there, in sync with the log', () => {
    const list = { ...fromLog(show), sources: [...show.sources, camera('mix', { picture: false })] };
    const out = correct(list, 'do,at,expect,source,frames\nsound,01:00:00:00,none,mix,300\n').list as CutList;
    expect(out.audio).toEqual([{ source: 'mix', in: 0, out: 300, sourceIn: 90_000, sourceOut: 90_300, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: false }]);
    const quiet = correct(out, 'do,at,expect,source,frames,tracks\nsound,01:00:02:00,mix,none,50,2\n').list as CutList;
    expect(quiet.audio.map((piece) => `${String(piece.in)}-${String(piece.out)} ${piece.tracks.join('')}`)).toEqual(['0-300 1', '0-50 2', '100-300 2']);
    expect(correct(out, 'do,at,expect,source,frames\nsound,01:00:02:00,none,1,50\n').said.join()).toContain('it expects silence on channel 1, and there is Camera mix (mix) [correction-mismatch]');
  });

  it('sound on tracks in any order, each with its own channel', () => {
    const list = { ...fromLog(show), sources: [...show.sources, camera('mix', { picture: false })] };
    const laid = (tracks: string, channels: string): CutList | undefined => correct(list, `do,at,expect,source,frames,tracks,channels\nsound,01:00:00:00,none,mix,300,${tracks},${channels}\n`).list;
    expect(laid('3 2', '1 4')?.audio.map((piece) => [piece.tracks, piece.channels])).toEqual([[[2, 3], [4, 1]]]);
    expect(laid('3 2', '1 4')).toEqual(laid('2 3', '4 1'));
  });

  it('sound that follows the picture follows its corrections', () => {
    const out = correct(listOf('1:100 2:50d10 3:50', 'follow'), 'do,at,expect,to,frames\nstart,01:00:04:00,2,5 later,\ndissolve,01:00:06:00,3,,8').list as CutList;
    expect(out.audio.map((piece) => [piece.source, piece.in, piece.out, piece.sourceIn - 90_000, piece.transition?.frames])).toEqual([['1', 0, 105, 0, undefined], ['2', 105, 150, 105, 10], ['3', 150, 200, 150, 8]]);
  });

  it('sound that goes on from what came on by a mix is a piece of its own', () => {
    const list = listOf('2:50 1:150d20 2:50', 'follow');
    const [first, mixed, last] = list.audio as [AudioPiece, AudioPiece, AudioPiece];
    const early: AudioPiece = { ...mixed, out: 125, sourceOut: mixed.sourceIn + 75, withPicture: false };
    const other: AudioPiece = { ...last, in: 125, sourceIn: 90_125, withPicture: false };
    const out = correct({ ...list, audio: [first, early, other] }, 'do,at,expect,source,sourceIn,frames\nsound,01:00:05:00,2,1,01:00:05:00,100').list as CutList;
    expect(soundOf(out)).toBe('2:0-50 1:50-125d20 1:125-225 2:225-250');
  });

  it('sound of a shot keeps its mix where other sound is laid behind the mix, and loses it where it is laid into the mix', () => {
    const laid = (at: string): string => soundOf(correct(listOf('2:50 1:150d20 2:50', 'follow'), `do,at,expect,source,sourceIn,frames\nsound,${at},1,2,01:00:05:00,50`).list as CutList);
    expect(laid('01:00:05:00')).toBe('2:0-50 1:50-125d20 2:125-175 1:175-200 2:200-250');
    expect(laid('01:00:02:20')).toBe('2:0-50 1:50-70d20 2:70-120 1:120-200 2:200-250');
    expect(laid('01:00:02:19')).toBe('2:0-50 1:50-69 2:69-119 1:119-200 2:200-250');
  });

  it('sound comes on with its picture by a wipe without a code, which is code 0', () => {
    const shots = listOf('2:50 1:150').shots.map((shot, index): Shot => (index === 0 ? shot : { ...shot, transition: { kind: 'wipe', frames: 20, inOffset: 0 } }));
    const { list, said } = correct(listOf('2:50 1:150', 'none', { shots }), 'do,at,expect,source,sourceIn,frames,mix,wipe\nsound,01:00:02:00,none,1,01:00:02:00,150,20,0');
    expect(said).toEqual([]);
    expect(list?.audio).toEqual([{ source: '1', in: 50, out: 200, sourceIn: 90_050, sourceOut: 90_200, tracks: [1, 2], channels: [1, 2], take: 0, withPicture: true, transition: shots[1]?.transition }]);
  });

  it('a shot that an insertion divides comes back by a cut, where it would have been', () => {
    expect(result(listOf('1:100 2:90d10 3:50'), 'do,at,expect,source,sourceIn,frames', 'insert,01:00:05:00,2,1,01:00:05:00,20', 'source,01:00:04:00,2,4,01:00:10:00,')).toBe('1:100 4:25d10@150 1:20 4:45@150 3:50');
  });
});

describe('expectations', () => {
  const mismatch = (...rows: string[]): string => result(show, ...rows);

  it('never hit another shot', () => {
    expect(mismatch('do,at,expect', 'remove,01:00:04:00,3')).toBe('fix.csv:2: error: remove: it expects Camera 3 (3), and shot 2 is Camera 2 (2) from 01:00:04:00 [correction-mismatch]');
    expect(mismatch('do,at,expect', 'remove,01:00:04:05,2')).toBe('fix.csv:2: error: remove: no shot begins at 01:00:04:05: shot 2 is Camera 2 (2) from 01:00:04:00; if that one is meant, write at: 01:00:04:00 [correction-mismatch]');
    expect(mismatch('do,shot,was,expect', 'remove,2,51,2')).toContain('it expects a shot of 51 frames, and shot 2 is Camera 2 (2) from 01:00:04:00, has 50 [correction-mismatch]');
    expect(mismatch('do,shot,at,expect', 'remove,3,01:00:04:00,2')).toContain('shot 3 begins at 01:00:06:00, not at 01:00:04:00; there shot 2 begins [correction-mismatch]');
    expect(mismatch('do,shot,was,expect', 'remove,9,50,2')).toContain('there is no shot 9; the list has 4 [correction-mismatch]');
    expect(mismatch('do,shot,expect', 'remove,2,2')).toContain('a number alone could hit another shot when the list changes; give also at: 01:00:04:00, or was: 50 [bad-corrections]');
    expect(mismatch('do,expect', 'remove,2')).toContain('it does not say which shot');
    expect(mismatch('do,at,expect', 'remove,01:00:04:00,')).toContain('remove: it needs expect');
    expect(mismatch('do,at,expect', 'remove,01:00:04:00,Kamera 2')).toContain("it expects 'Kamera 2', which is no source of the list [unknown-source]");
    expect(mismatch('do,at,expect', 'remove,00:59:00:00,2')).toContain('lies before the list, which begins at 01:00:00:00 [correction-mismatch]');
    expect(mismatch('do,at,expect', 'remove,02:00:00:00,2')).toContain('lies after the list, which ends at 01:00:12:00 [correction-mismatch]');
    expect(mismatch('do,at,expect', 'remove,nonsense,2')).toContain('[bad-time]');
    expect(mismatch('do,at,expect,source,frames', 'insert,01:00:04:10,1,3,5')).toContain('it expects Camera 1 (1), and shot 2 is Camera 2 (2) from 01:00:04:00 [correction-mismatch]');
  });

  it('are asked for also where what they expect is a text', () => {
    const list: CutList = { ...show, title: 'Harbour', markers: [{ at: 40, note: 'Suppe' }, { at: 90, note: '' }, { at: 95, note: '' }] };
    for (const [head, row] of [
      ['do,at,note', 'rename-marker,01:00:01:15,Soup'], ['do,at,to', 'move-marker,01:00:01:15,01:00:02:00'], ['do,at', 'remove-marker,01:00:01:15'],
      ['do,to', 'title,Kitchen'], ['do,to,expect', 'title,Kitchen'], ['do,at,expect', 'cut,01:00:04:00,'],
    ] as const) {
      expect(result(list, head, row)).toBe(`fix.csv:2: error: ${row.split(',')[0] ?? ''}: it needs expect [bad-corrections]`);
    }
    expect(result(list, '[{ "do": "title", "to": "Kitchen" }]')).toContain('title: it needs expect');
    expect(result(list, 'do,expect', 'title,Harbour')).toContain('title: it needs to');
  });

  it('may be an empty text: of a marker or a title without one', () => {
    const list: CutList = { ...show, title: '', markers: [{ at: 40, note: 'Soup' }, { at: 90, note: '' }, { at: 95, note: '' }] };
    const out = correct(list, 'do,at,expect,to,note\nrename-marker,01:00:03:15,,,Wine\nremove-marker,01:00:03:20,,,\ntitle,,,Harbour,').list as CutList;
    expect([out.title, ...out.markers.map(({ note }) => note)]).toEqual(['Harbour', 'Soup', 'Wine']);
    const json = correct(list, '[{ "do": "move-marker", "at": "90", "expect": "", "to": "0" }, { "do": "title", "expect": "", "to": "Harbour" }]').list as CutList;
    expect([json.title, ...json.markers.map(({ at }) => at)]).toEqual(['Harbour', 0, 40, 95]);
    expect(correct(out, 'do,expect,to\ntitle,Harbour,').list?.title).toBe('');
    expect(result(list, 'do,at,expect', 'remove-marker,01:00:01:15,')).toContain("it expects a marker without a text at 01:00:01:15, and there is 'Soup' [correction-mismatch]");
  });

  it('of many corrections none is applied when one does not fit; all that do not fit are reported', () => {
    const { list, said } = correct(show, 'do,at,expect,to\nstart,01:00:04:00,2,5 later\nstart,01:00:06:00,1,5 later\ncut,01:00:06:00,3,\nremove,01:00:09:00,1,');
    expect(list).toBeUndefined();
    expect(said).toHaveLength(3);
  });

  it('one shot is corrected once in one way', () => {
    expect(mismatch('do,at,expect,to', 'start,01:00:04:00,2,5 later', 'start,01:00:04:00,2,6 later')).toContain('the correction on line 2 corrects the same of shot 2');
    expect(mismatch('do,at,expect,to', 'start,01:00:04:00,2,5 later', 'remove,01:00:04:00,2,')).toContain('shot 2 is removed, and corrected otherwise as well');
  });

  it('names what a list shows in place of a source that was not recorded', () => {
    const replaced = { ...show, shots: show.shots.map((shot, index) => (index === 1 ? { ...shot, source: BLACK, sourceIn: 0, sourceOut: 50, instead: '2' } : shot)) };
    expect(result(replaced, 'do,at,expect', 'remove,01:00:04:00,2')).toBe('1:150 3:50 1:100');
    expect(result(replaced, 'do,at,expect', 'remove,01:00:04:00,black')).toBe('1:150 3:50 1:100');
  });
});

describe('the file', () => {
  it('may be JSON', () => {
    expect(result(show, '{ "corrections": [ { "do": "start", "at": "01:00:04:00", "expect": 2, "to": "5 later" } ] }')).toBe('1:105 2:45d10 3:50 1:100');
    expect(result(show, '[{ "do": "wipe", "shot": 3, "was": 50, "expect": "camera 3", "frames": 25, "wipe": 17, "remark": "as rehearsed" }]')).toBe('1:100 2:50d10 3:50w25 1:100');
    expect(result(show, '[{ "do": "start",\n "at": "01:00:04:00", "expcet": 2, "to": "5 later" }]')).toBe("fix.csv:2:23: error: unknown key 'expcet'; did you mean 'expect'? [bad-corrections]");
  });

  it('may have semicolons or tabs, columns in any order and case, and blank rows', () => {
    expect(result(show, '\uFEFFExpect;AT;Do;To;Remark', '', '2;01:00:04:00;START;5 later;"late; again"', ';;;;')).toBe('1:105 2:45d10 3:50 1:100');
    expect(result(show, 'do\tat\texpect\tto', 'start\t01:00:04:00\t2\t5 later')).toBe('1:105 2:45d10 3:50 1:100');
  });

  it('says of a label without quotes that it is cut where its mark is the delimiter', () => {
    const said = (...rows: string[]): string[] => correct(show, rows.join('\n')).said;
    const cut = (time: string, line = 2, mark = ';'): string =>
      `fix.csv:${String(line)}: error: '${time}' and '00' look like one label, ${time}${mark}00, that is cut at its ${mark}; write it in quotes: "${time}${mark}00" [bad-corrections]`;
    expect(said('do;at;expect;to', 'start;01:00:04;00;2;5 later')).toEqual([cut('01:00:04')]);
    expect(said('do;at;expect;to;note;source', 'start;01:00:04;00;2;5 later;', 'cut;01:00:06:00;3;;;', 'title;;x;01:00:04;00')).toEqual([cut('01:00:04')]);
    expect(said('do;at;expect;to', 'start;01:00:04:00;2;01:00:05;00', 'record-start;;01:00:00;00;02:00:00;00')).toEqual([cut('01:00:05'), cut('01:00:00', 3)]);
    expect(said('do,at,expect,to', 'start,01:00:04,00,2,5 later')).toEqual([cut('01:00:04', 2, ',')]);
    expect(said('do;at;expect;to', 'move-marker;01:00:04:00;x;01:00:05;00')).toEqual([cut('01:00:05')]);
    // `to` is not a label everywhere.
    expect(said('do,at,to,source,frames,expect,note', 'rename-marker,01:00:04:00,20:15:00,12,,,x')).toEqual([
      'fix.csv:2: error: rename-marker: it takes no to; it takes at, expect, note, color [bad-corrections]', 'fix.csv:2: error: rename-marker: it takes no source; it takes at, expect, note, color [bad-corrections]',
    ]);
    expect(said('do,at,expect,to,frames', 'rate,,25,20:15:00,12', 'length,01:00:04:00,2,20:15:00,12').join('')).not.toContain('cut at');
    // What is expected may be any text.
    expect(said('do;at;expect;frames', 'remove-marker;01:00:04:00;12:30:00;', 'sound;01:00:04:00;12:30:00;25').join('')).not.toContain('cut at');
    expect(said('do;at;expect;to', 'start;"01:00:04;00";2;5 later').join('')).not.toContain('cut at');
  });

  it('is described in the README as it is', () => {
    const readme = readFileSync(fileURLToPath(new URL('../../README.md', import.meta.url)), 'utf8');
    const section = readme.slice(readme.indexOf('## Corrections'), readme.indexOf('## Checking'));
    const example = /```csv\n([\s\S]*?)```/.exec(section)?.[1] ?? '';
    const problems = new ProblemList();
    expect(readCorrections(example, 'fix.csv', problems.add)?.map((one) => one.do)).toEqual(['source', 'start', 'dissolve', 'remove', 'insert', 'length', 'rename-marker']);
    expect(problems.problems).toEqual([]);
    const rows = new Map(Array.from(section.matchAll(/^\| ((?:`[a-z-]+` ?)+)\|([^|]*)\|([^|]*)\|/gm)).flatMap(([, names = '', needs = '', takes = '']) =>
      words(names).map((name) => [name, { needs: words(needs), takes: words(takes) }] as const)));
    for (const [name, { needs, takes }] of Object.entries<{ readonly needs: readonly string[]; readonly takes: readonly string[] }>(OPERATIONS)) {
      const shot = takes.includes('shot') ? ['shot', 'at', 'was'] : [];
      const told = rows.get(name);
      expect([told?.needs, [...(told?.takes ?? []), ...shot].sort()], name).toEqual([[...needs], [...takes].sort()]);
    }
  });

  it('is refused with the line and what was expected', () => {
    expect(result(show, 'do,at,expct', 'cut,01:00:04:00,2')).toBe("fix.csv:1: error: unknown column 'expct'; did you mean 'expect'? [bad-corrections]");
    expect(result(show, 'do,at,expect', 'cutt,01:00:04:00,2')).toBe("fix.csv:2: error: 'cutt' is no correction; did you mean 'cut'? [bad-corrections]");
    expect(result(show, 'do,at,expect,frames', '', 'cut,01:00:04:00,2,5')).toBe('fix.csv:3: error: cut: it takes no frames; it takes expect, shot, at, was [bad-corrections]');
    expect(result(show, 'do,at,expect,frames', 'dissolve,01:00:04:00,2,')).toBe('fix.csv:2: error: dissolve: it needs frames [bad-corrections]');
    expect(result(show, 'do,at,expect,frames', 'dissolve,01:00:04:00,2,1.5')).toContain("frames is '1.5'; expected a whole number from 0");
    expect(result(show, 'at,expect', '01:00:04:00,2')).toContain("no column is called 'do'");
    expect(result(show, 'do,at,do', 'cut,01:00:04:00,2')).toContain("the column 'do' is there twice");
    expect(result(show, 'do,at\n"x')).toContain('[malformed-csv]');
    expect(result(show, '')).toContain('the file is empty');
    expect(result(show, '{ "corrections": 5 }')).toContain('expected a list of corrections');
  });
});

describe('laws', () => {
  it('but for length the running time stays, and shots that are not named and lie beside none that is keep every point', () => {
    const where = fc.record({ index: fc.nat(), by: fc.integer({ min: -30, max: 30 }), do: fc.constantFrom('start', 'remove', 'dissolve', 'source') });
    let done = 0;
    fc.assert(fc.property(anyList(), fc.array(where, { minLength: 1, maxLength: 4 }), (list, picks) => {
      const named = new Map(picks.map((pick) => [pick.index % list.shots.length, pick]));
      const corrections = [...named].map(([index, pick]) => {
        const shot = list.shots[index] as CutList['shots'][number];
        const base = { do: pick.do, shot: index + 1, at: formatTimecode(list.recordStart + shot.in, list.count), expect: shot.source, place: {} } as const;
        if (pick.do === 'start') return { ...base, do: 'start', to: `${String(Math.abs(pick.by))} ${pick.by < 0 ? 'earlier' : 'later'}` } as const;
        if (pick.do === 'source') return { ...base, do: 'source', source: BLACK } as const;
        return pick.do === 'dissolve' ? { ...base, frames: 1 + Math.abs(pick.by) } as const : base;
      });
      const out = applyCorrections(list, corrections, () => undefined);
      if (out === undefined) return;
      done += 1;
      expect(listFaults(out)).toEqual([]);
      expect(out.frames).toBe(list.frames);
      const points = new Set(out.shots.map((shot) => JSON.stringify({ ...shot, take: 0 })));
      list.shots.forEach((shot, index) => {
        const touched = [index, index + 1].some((one) => named.has(one)) || [...named].some(([one, pick]) => pick.do === 'remove' && one < index && list.shots.slice(0, index).every((_, before) => named.get(before)?.do === 'remove'));
        if (!touched) expect(points.has(JSON.stringify({ ...shot, take: 0 }))).toBe(true);
      });
    }), { numRuns: 800 });
    // Most of what is drawn at random has to fit, or this proves little.
    expect(done).toBeGreaterThan(150);
  });
});
