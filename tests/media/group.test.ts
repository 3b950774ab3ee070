import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { groupRecordings, isProgram } from '../../src/media/group.js';
import { between, canBeOne, inOrder, sharedFrames, type Placed } from '../../src/media/order.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { count, made, type Made } from './support.js';

/** `source: file, file` for each group. */
const shown = (files: readonly Placed[], pattern?: RegExp): string[] =>
  groupRecordings(files, pattern).groups.map(({ name, files: members }) => `${name}: ${members.map((file) => file.name).join(', ')}`);

describe('which file belongs to which source', () => {
  test.each<[string, [string, Made?][], string[]]>([
    ['parts by number', [['wide-1.mov', { start: 0 }], ['wide-2.mov', { start: 1000 }], ['close.mov', { start: 0 }]], ['close: close.mov', 'wide: wide-1.mov, wide-2.mov']],
    ['parts are in order of timecode, not of name', [['wide-1.mov', { start: 5000 }], ['wide-2.mov', { start: 1000 }]], ['wide: wide-2.mov, wide-1.mov']],
    ['a number that belongs to the name', [['cam1.mov', { start: 0 }], ['cam2.mov', { start: 0 }]], ['cam1: cam1.mov', 'cam2: cam2.mov']],
    ['cameras with a number set off: the same time cannot be one recording', [['CAM 1.mov', { start: 0 }], ['CAM 2.mov', { start: 0 }], ['CAM 10.mov', { start: 999 }]], ['CAM 1: CAM 1.mov', 'CAM 2: CAM 2.mov', 'CAM 10: CAM 10.mov']],
    ['cameras without timecode are not joined', [['CAM 1.mov'], ['CAM 2.mov']], ['CAM 1: CAM 1.mov', 'CAM 2: CAM 2.mov']],
    ['long part numbers without timecode are', [['wide_0002.mov'], ['wide_0001.mov']], ['wide: wide_0001.mov, wide_0002.mov']],
    ['folders tell cards apart', [['cam1/clip0001.mov', { start: 0 }], ['cam1/clip0002.mov', { start: 1000 }], ['cam2/clip0001.mov', { start: 0 }]], ['cam1: cam1/clip0001.mov, cam1/clip0002.mov', 'cam2: cam2/clip0001.mov']],
    ['folders that hold equal names', [['a/wide-1.mov', { start: 0 }], ['b/wide-1.mov', { start: 0 }]], ['a: a/wide-1.mov', 'b: b/wide-1.mov']],
    ['cards with a clip folder of one name', [['card1/CLIP/CLIP0001.mov', { start: 0 }], ['card1/CLIP/CLIP0002.mov', { start: 1000 }], ['card2/CLIP/CLIP0001.mov', { start: 0 }], ['card2/CLIP/CLIP0002.mov', { start: 1000 }]], ['card1: card1/CLIP/CLIP0001.mov, card1/CLIP/CLIP0002.mov', 'card2: card2/CLIP/CLIP0001.mov, card2/CLIP/CLIP0002.mov']],
    ['cards whose clips go on counting', [['card1/CLIP/CLIP0001.mov', { start: 0 }], ['card1/CLIP/CLIP0002.mov', { start: 1000 }], ['card2/CLIP/CLIP0003.mov', { start: 0 }], ['card2/CLIP/CLIP0004.mov', { start: 1000 }]], ['card1: card1/CLIP/CLIP0001.mov, card1/CLIP/CLIP0002.mov', 'card2: card2/CLIP/CLIP0003.mov, card2/CLIP/CLIP0004.mov']],
    ['deeper ones', [['a/DCIM/100/CLIP0001.mov', { start: 0 }], ['a/DCIM/100/CLIP0002.mov', { start: 1000 }], ['b/DCIM/100/CLIP0001.mov', { start: 0 }]], ['a: a/DCIM/100/CLIP0001.mov, a/DCIM/100/CLIP0002.mov', 'b: b/DCIM/100/CLIP0001.mov']],
    ['one camera of several on whose card the same time is twice', [['a/CLIP/CLIP0001.mov', { start: 0 }], ['a/CLIP/CLIP0002.mov', { start: 1000 }], ['b/CLIP/CLIP0001.mov', { start: 0 }], ['b/CLIP/CLIP0002.mov', { start: 500 }]], ['a: a/CLIP/CLIP0001.mov, a/CLIP/CLIP0002.mov', 'b/CLIP/CLIP0001: b/CLIP/CLIP0001.mov', 'b/CLIP/CLIP0002: b/CLIP/CLIP0002.mov']],
    ['cameras of several days in folders of one name', [['d1/cams/CAM 1.mov', { start: 0 }], ['d1/cams/CAM 2.mov', { start: 0 }], ['d2/cams/CAM 1.mov', { start: 5000 }], ['d2/cams/CAM 2.mov', { start: 5000 }]], ['CAM 1: d1/cams/CAM 1.mov, d2/cams/CAM 1.mov', 'CAM 2: d1/cams/CAM 2.mov, d2/cams/CAM 2.mov']],
    ['cameras by their folders, where a card and its copy lie side by side', ['card', 'copy'].flatMap((top) => ['cam1', 'cam2'].flatMap((cam) => ['1', '2'].map((part): [string, { start: number }] => [`${top}/${cam}/CLIP000${part}.mov`, { start: part === '1' ? 0 : 1000 }]))), ['card/cam1', 'card/cam2', 'copy/cam1', 'copy/cam2'].map((name) => `${name}: ${name}/CLIP0001.mov, ${name}/CLIP0002.mov`)],
    ['parts that share a few frames', [['P_001.mov', { start: 0 }], ['P_002.mov', { start: 990 }], ['P_003.mov', { start: 1990 }]], ['P: P_001.mov, P_002.mov, P_003.mov']],
    ['a tenth of the shorter is no few', [['P_001.mov', { start: 0 }], ['P_002.mov', { start: 990, frames: 100 }]], ['P_001: P_001.mov', 'P_002: P_002.mov']],
    ['nor is what goes on for more than two seconds', [['C_001.mov', { start: 0, frames: 9000 }], ['C_002.mov', { start: 8939, frames: 9000 }]], ['C_001: C_001.mov', 'C_002: C_002.mov']],
    ['two seconds, to the frame', [['A_001.mov', { start: 0, frames: 9000, rate: '25' }], ['A_002.mov', { start: 8950, frames: 9000, rate: '25' }], ['B_001.mov', { start: 0, frames: 9000 }], ['B_002.mov', { start: 8941, frames: 9000 }], ['C_001.mov', { start: 0, frames: 9000 }], ['C_002.mov', { start: 8940, frames: 9000 }]], ['A: A_001.mov, A_002.mov', 'B: B_001.mov, B_002.mov', 'C_001: C_001.mov', 'C_002: C_002.mov']],
    ['numbers that may be cameras, or folders that may be, with a few frames shared', [['CAM 1.mov', { start: 0 }], ['CAM 2.mov', { start: 990 }], ['a/wide_001.mov', { start: 0 }], ['b/wide_002.mov', { start: 990 }]], ['a: a/wide_001.mov', 'b: b/wide_002.mov', 'CAM 1: CAM 1.mov', 'CAM 2: CAM 2.mov']],
    ['one source over several folders', [['day1/wide-1.mov', { start: 0 }], ['day2/wide-2.mov', { start: 1000 }]], ['wide: day1/wide-1.mov, day2/wide-2.mov']],
    ['a number for the camera and one for the part', [['CAM 1_0001.mov', { start: 0 }], ['CAM 1_0002.mov', { start: 1000 }], ['CAM 2_0001.mov', { start: 0 }]], ['CAM 1: CAM 1_0001.mov, CAM 1_0002.mov', 'CAM 2: CAM 2_0001.mov']],
    ['date and time behind the name', [['wide_2026-11-25_19-30-00.mov', { start: 0 }], ['wide_2026-11-25_20-00-00.mov', { start: 1000 }]], ['wide: wide_2026-11-25_19-30-00.mov, wide_2026-11-25_20-00-00.mov']],
    ['a part number behind the date', [['cam1_20261125_193000_001.mov', { start: 0 }], ['cam1_20261125_200000_002.mov', { start: 1000 }], ['cam2_20261125_193000_001.mov', { start: 0 }]], ['cam1: cam1_20261125_193000_001.mov, cam1_20261125_200000_002.mov', 'cam2: cam2_20261125_193000_001.mov']],
    ['words for a part', [['wide part2.mov', { start: 1000 }], ['wide part1.mov', { start: 0 }], ['close (2).mov', { start: 9 }]], ['close: close (2).mov', 'wide: wide part1.mov, wide part2.mov']],
    ['nothing but numbers', [['0001.mov', { start: 0 }], ['0002.mov', { start: 1000 }]], ['recording: 0001.mov, 0002.mov']],
    ['sound is never in one source with pictures', [['wide.mov', { start: 0 }], ['wide.wav', { start: 0, sound: true }]], ['wide: wide.mov', 'wide sound: wide.wav']],
    ['two rates are two sources', [['wide-1.mov', { start: 0 }], ['wide-2.mov', { start: 5000, rate: '25' }]], ['wide-1: wide-1.mov', 'wide-2: wide-2.mov']],
    ['a copy in another format is another source', [['wide.mov', {}], ['wide.mkv', {}]], ['wide.mkv: wide.mkv', 'wide.mov: wide.mov']],
    ['names that differ in case are one', [['Wide-1.mov', { start: 0 }], ['WIDE-2.MOV', { start: 1000 }]], ['Wide: Wide-1.mov, WIDE-2.MOV']],
    ['a name that linecut keeps for itself', [['black.mov', { start: 0 }], ['none.mov', { start: 0 }], ['program.wav', { start: 0, sound: true }]], ['black 2: black.mov', 'none 2: none.mov', 'program sound: program.wav']],
  ])('%s', (_, files, expected) => {
    expect(shown(files.map(([name, facts]) => made(name, facts)))).toEqual(expected);
  });

  test('a pattern: the group named source, else the first, else the whole match', () => {
    const files = [made('cam1/0001.mov'), made('cam1/0002.mov'), made('cam2/0001.mov'), made('notes.mov')];
    for (const pattern of [/^(?<disk>x)?(?<source>cam\d)/, /^(cam\d)\//, /^cam\d/]) {
      expect(shown(files, pattern)).toEqual(['cam1: cam1/0001.mov, cam1/0002.mov', 'cam2: cam2/0001.mov']);
      expect(groupRecordings(files, pattern).ungrouped.map(({ name }) => name)).toEqual(['notes.mov']);
    }
    // A pattern with a state of its own gives the same as one without.
    expect(shown(files, /cam\d/g)).toEqual(shown(files, /cam\d/));
  });

  test('a pattern may join what overlaps, but not what has two rates: a show file gives each its own source', () => {
    expect(shown([made('a1.mov', { start: 0 }), made('a2.mov', { start: 0 })], /^a/)).toEqual(['a: a1.mov, a2.mov']);
    expect(shown([made('a1.mov', { start: 0 }), made('a2.mov', { start: 0, rate: '25' })], /^a/)).toEqual(['a 25: a2.mov', 'a 29.97: a1.mov']);
  });

  test('several folders that hold one path: the folder counts as the first of the path, also for a pattern', () => {
    const files = ['card1', 'card2'].flatMap((card) => [1, 2].map((number) => made(`CLIP/CLIP000${String(number)}.mov`, { start: 1000 * number, longName: `${card}/CLIP/CLIP000${String(number)}.mov` })));
    const parts = (card: string): string => `${card}: ${card}/CLIP/CLIP0001.mov, ${card}/CLIP/CLIP0002.mov`;
    expect(shown(files)).toEqual([parts('card1'), parts('card2')]);
    expect(groupRecordings(files, /^(card\d)\//).groups.map(({ name, files: members }) => [name, members.length])).toEqual([['card1', 2], ['card2', 2]]);
    // The path below the folder comes first.
    expect(groupRecordings(files, /^[^/]+/).groups.map(({ name }) => name)).toEqual(['CLIP']);
    // Where all paths differ, the folder is none of their names.
    expect(shown([made('wide/CLIP0001.mov', { longName: 'x/wide/CLIP0001.mov' }), made('close/CLIP0001.mov', { longName: 'y/close/CLIP0001.mov' })])).toEqual(['close: close/CLIP0001.mov', 'wide: wide/CLIP0001.mov']);
  });

  test('a card for itself in each of several folders: a few frames that two of them share are not those of parts', () => {
    const cards = (other: string): Placed[] => [made('C0001.mov', { start: 0, longName: 'CARD_A/C0001.mov' }), made('C0002.mov', { start: 990, longName: `${other}/C0002.mov` })];
    expect(shown(cards('CARD_B'))).toEqual(['C0001: C0001.mov', 'C0002: C0002.mov']);
    expect(shown(cards('CARD_A'))).toEqual(['C: C0001.mov, C0002.mov']);
  });

  test('says where frames that they share are why parts were told apart; not of cameras', () => {
    const said = (...starts: [string, number][]): string[] => groupRecordings(starts.map(([name, start]) => made(name, { start }))).problems.map(({ code, severity, message, place }) => `${place?.file ?? ''}: ${severity} ${code}: ${message}`);
    const note = (file: string, frames: number, other: string, title: string): string => `media/${file}: note recording-overlap: it shares ${String(frames)} frames with ${other}, so the files called '${title}' were told apart; if they are one recording, join them with --group`;
    expect(said(['P_001.mov', 0], ['P_002.mov', 1000], ['P_003.mov', 1500])).toEqual([note('P_003.mov', 500, 'P_002.mov', 'P')]);
    expect(said(['wide-1.mov', 0], ['wide-2.mov', 990])).toEqual([note('wide-2.mov', 10, 'wide-1.mov', 'wide')]);
    expect(said(['CAM 1.mov', 0], ['CAM 2.mov', 5], ['a/clip001.mov', 0], ['b/clip001.mov', 0], ['x/wide.mov', 0], ['y/wide.mov', 0])).toEqual([]);
    expect(said(['P_001.mov', 0], ['P_002.mov', 990])).toEqual([]);
  });

  test('the program recording is the picture called program or PGM', () => {
    const { groups } = groupRecordings([made('PGM-1.mov', { start: 0 }), made('PGM-2.mov', { start: 1000 }), made('pgm2.mov', { start: 0 }), made('pgm.wav', { sound: true })]);
    expect(groups.filter(isProgram).map(({ name }) => name)).toEqual(['PGM']);
  });

  const arbitraryFiles = fc.uniqueArray(
    fc.record({
      folder: fc.constantFrom('', 'cam1/', 'cam2/', 'day 1/cam1/'),
      stem: fc.constantFrom('wide', 'clip', 'CAM', 'cam1', 'pgm', '', 'black'),
      mark: fc.constantFrom('', '-', '_', ' ', ' part'),
      number: fc.constantFrom('', '1', '2', '0001', '0002'),
      ending: fc.constantFrom('.mov', '.MOV', '.wav'),
      start: fc.option(fc.integer({ min: 0, max: 8000 }), { nil: undefined }),
      frames: fc.integer({ min: 1, max: 3000 }),
      rate: fc.constantFrom('29.97df', '29.97df', '29.97', '25'),
    }),
    { maxLength: 25, selector: ({ folder, stem, mark, number, ending }) => `${folder}${stem}${mark}${number}${ending}` },
  ).map((list) => list.map(({ folder, stem, mark, number, ending, start, frames, rate }) =>
    made(`${folder}${stem}${mark}${number}${ending}`, { frames, rate, sound: ending === '.wav', ...(start === undefined ? {} : { start }) })));

  test('every file is in exactly one source; no source holds the same time twice, but for a short overlap, two counts, or sound and pictures; names are unique in any case and free', () => {
    fc.assert(fc.property(arbitraryFiles, (files) => {
      const { groups, ungrouped } = groupRecordings(files);
      expect(ungrouped).toEqual([]);
      expect(groups.flatMap((group) => group.files.map(({ name }) => name)).sort()).toEqual(files.map(({ name }) => name).sort());
      for (const group of groups) {
        expect(canBeOne(group.files)).not.toBe('no');
        expect(group.files.every(({ recording }) => (recording.picture !== undefined) === group.picture)).toBe(true);
        const overlaps = between(group.files).filter(({ code }) => code === 'recording-overlap');
        expect(overlaps.length).toBe(sharedFrames(group.files).length);
        // Two seconds at the fastest of these rates.
        for (const { message } of overlaps) expect(Number(/first (\d+) frames/.exec(message)?.[1] ?? 1)).toBeLessThanOrEqual(59);
      }
      const names = groups.map(({ name }) => name.toLowerCase());
      expect(new Set(names).size).toBe(names.length);
      for (const name of ['black', 'follow', 'none']) expect(names).not.toContain(name);
      for (const group of groups) if (group.name.toLowerCase() === 'program') expect(isProgram(group)).toBe(true);
    }), { numRuns: 500 });
  });

  test('the order in which files come in changes nothing', () => {
    fc.assert(fc.property(arbitraryFiles.chain((files) => fc.tuple(fc.constant(files), fc.shuffledSubarray(files, { minLength: files.length }))), ([files, shuffled]) => {
      const plain = (list: readonly Placed[]): unknown => groupRecordings(list).groups.map(({ name, files: members }) => [name.toLowerCase(), members.map((file) => file.name)]);
      expect(plain(shuffled)).toEqual(plain(files));
    }), { numRuns: 300 });
  });
});

describe('the order of the files of one source', () => {
  const day = framesPerDay(count('29.97df'));

  test('the parts of one recording come in its order, wherever it begins, also across midnight', () => {
    fc.assert(fc.property(
      fc.integer({ min: 0, max: day - 1 }), fc.array(fc.record({ frames: fc.integer({ min: 1, max: 200_000 }), hole: fc.integer({ min: 0, max: 50 }) }), { minLength: 1, maxLength: 10 }), fc.integer(),
      (first, parts, seed) => {
        let at = first;
        const files = parts.map(({ frames, hole }, index) => {
          const file = made(`wide-${String(index)}.mov`, { start: at % day, frames });
          at += frames + hole;
          return file;
        });
        // A pause that midnight falls into leaves no trace: then the plain order of labels counts.
        const ends = parts.reduce<number[]>((sums, { frames, hole }) => [...sums, (sums.at(-1) ?? first) + frames + hole], []);
        fc.pre(at <= day || parts.some(({ frames, hole }, index) => { const end = (ends[index] ?? 0) - hole; return end > day && end - frames < day; }));
        const mixed = [...files].sort((a, b) => ((a.extent?.start ?? 0) * 7 + seed) % 11 - ((b.extent?.start ?? 0) * 7 + seed) % 11);
        expect(inOrder(mixed).map(({ name }) => name)).toEqual(files.map(({ name }) => name));
      },
    ), { numRuns: 500 });
  });

  test('morning and night takes without a file across midnight stay in order of their labels', () => {
    const files = [made('night.mov', { start: day - 2000, frames: 1000 }), made('morning.mov', { start: 971_028, frames: 1000 })];
    expect(inOrder(files).map(({ name }) => name)).toEqual(['morning.mov', 'night.mov']);
  });

  test('without timecode by name, as people count', () => {
    expect(inOrder([made('a10.mov'), made('a9.mov'), made('b.mov', { start: 5 })]).map(({ name }) => name)).toEqual(['b.mov', 'a9.mov', 'a10.mov']);
  });

  test('holes are noted with their length, overlaps are warned of', () => {
    const files = [made('a.mov', { start: 0 }), made('b.mov', { start: 1010 }), made('c.mov', { start: 2000 })];
    const problems = between(files);
    expect(problems.map(({ code, severity, message }) => `${severity} ${code}: ${message}`)).toEqual([
      'note recording-hole: 10 frames are missing between a.mov (to 00:00:33;09) and this file (from 00:00:33;20)',
      'warning recording-overlap: its first 10 frames are in b.mov too (which goes to 00:01:07;01, and this file begins at 00:01:06;22)',
    ]);
  });

  test('one frame is one', () => {
    expect(between([made('a.mov', { start: 0 }), made('b.mov', { start: 1001 })])[0]?.message).toMatch(/^1 frame is missing between/);
    expect(between([made('a.mov', { start: 0 }), made('b.mov', { start: 999 })])[0]?.message).toMatch(/^its first frame is in a\.mov too/);
  });

  test('a recording across midnight has no hole there', () => {
    const files = inOrder([made('a.mov', { start: day - 500 }), made('b.mov', { start: 500 })]);
    expect(files.map(({ name }) => name)).toEqual(['a.mov', 'b.mov']);
    expect(between(files)).toEqual([]);
    expect(canBeOne(files)).toBe('yes');
    expect(canBeOne([made('a.mov', { start: day - 500 }), made('b.mov', { start: 499 })])).toBe('no');
  });
});
