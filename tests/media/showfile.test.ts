import { describe, expect, test } from 'vitest';
import { groupRecordings } from '../../src/media/group.js';
import type { Placed } from '../../src/media/order.js';
import { showWith } from '../../src/media/showfile.js';
import type { Problem } from '../../src/problems.js';
import { readShowFile } from '../../src/show/read.js';
import { showSources } from '../../src/show/sources.js';
import { framesPerDay } from '../../src/timecode/timecode.js';
import { count, made } from './support.js';

function write(files: readonly Placed[], text?: string, force = false, isThere?: () => boolean): { text: string | undefined; problems: Problem[] } {
  const problems: Problem[] = [];
  const target = { file: 'show.json', folder: '/show', from: '/show', ...(text === undefined ? {} : { text }), ...(isThere === undefined ? {} : { isThere }) };
  return { text: showWith(groupRecordings(files).groups, target, { force }, (one) => void problems.push(one)), problems };
}

const parsed = (text: string | undefined): unknown => JSON.parse(text ?? 'null');

const WIDE = [made('wide-2.mov', { start: 1_079_920 }), made('wide-1.mov', { start: 1_078_920 })];

describe('a new show file', () => {
  test('holds every source, its files in order of timecode, one line each', () => {
    const { text, problems } = write([...WIDE, made('pgm.mov', { start: 0 }), made('desk.wav', { sound: true, rate: '29.97' })]);
    expect(problems).toEqual([]);
    expect(parsed(text)).toEqual({
      sources: [
        { id: 'wide', name: 'wide', files: [
          { path: 'media/wide-1.mov', start: '10:00:00;00', frames: 1000, rate: '29.97df', channels: 0, size: 4096 },
          { path: 'media/wide-2.mov', start: '10:00:33;10', frames: 1000, rate: '29.97df', channels: 0, size: 4096 },
        ] },
        { id: 'desk', name: 'desk', picture: false, files: [{ path: 'media/desk.wav', frames: 1000, rate: '29.97', channels: 2, size: 4096 }] },
      ],
      program: { files: [{ path: 'media/pgm.mov', start: '00:00:00;00', frames: 1000, rate: '29.97df', channels: 0, size: 4096 }] },
    });
    expect(text?.split('\n').filter((line) => line.includes('"path"')).length).toBe(4);
  });

  test('is read back as the frames that were measured, also across midnight', () => {
    const day = framesPerDay(count('29.97df'));
    const files = [made('wide-1.mov', { start: day - 1500 }), made('wide-2.mov', { start: day - 500 }), made('wide-3.mov', { start: 500 })];
    const show = readShowFile(write(files).text ?? '', 'show.json', () => undefined);
    const [source] = show === undefined ? [] : showSources(show, count('29.97df'), 'show.json', (one) => { throw new Error(one.message); });
    expect(source?.files.map(({ path, start, frames, size }) => [path, start, frames, size])).toEqual([
      ['media/wide-1.mov', day - 1500, 1000, 4096], ['media/wide-2.mov', day - 500, 1000, 4096], ['media/wide-3.mov', day + 500, 1000, 4096],
    ]);
  });
});

describe('a picture whose rate is none of the list rates', () => {
  const phone = (name: string, varying: boolean): Placed => {
    const { recording: { path, bytes, container, picture } } = made(name);
    const { width = 0, height = 0 } = picture ?? {};
    return { name, recording: { path, bytes, container, picture: { width, height, fps: 27.31, varying } } };
  };

  test('is written without it, and told of', () => {
    const files = [phone('phone.mp4', true), phone('odd.mov', false), made('wide.mov')];
    const once = write(files);
    for (const { problems } of [once, write(files, once.text), write(files, '{}')]) {
      expect(problems.map(({ code, severity, place }) => `${severity} ${code} ${place?.file ?? ''}`).sort()).toEqual(['warning bad-rate media/odd.mov', 'warning variable-rate media/phone.mp4']);
      expect(problems[0]?.message).toBe("it was written without rate and length: lists play it at the show's rate, and as if it never ended; make a copy with a constant rate of SMPTE ST 12-1, and name that");
    }
  });

  test('is not where somebody wrote one', () => {
    expect(write([phone('phone.mp4', true)], '{ "sources": [{ "id": "phone", "files": [{ "path": "media/phone.mp4", "rate": "25", "frames": 90 }] }] }').problems).toEqual([]);
  });
});

describe('a show file that is there', () => {
  const SHOW = `{
  "title": "Harbour Kitchen 14",
  "rate": "29.97df",
  "sources": [
    { "id": "1", "name": "Stage wide", "reel": "WIDE", "aliases": ["wide"], "offset": 2 },
    { "id": "2", "name": "Close", "files": [{ "path": "media/closeup.mov", "start": "10:00:00;00" }] },
    { "id": "4", "name": "Slides", "recorded": false }
  ],
  "program": { "name": "Program", "reel": "PGM" },
  "audio": { "from": "1" }
}
`;

  test('is completed: a source by its name, id, alias or reel, a file by its path; the rest stays', () => {
    const { text, problems } = write([...WIDE, made('closeup.mov', { start: 1_078_920 }), made('PGM.mov', { start: 5 }), made('oven.mov', { start: 5 })], SHOW);
    expect(problems).toEqual([]);
    const before = JSON.parse(SHOW) as { sources: object[]; program: object };
    expect(parsed(text)).toEqual({
      ...before,
      sources: [
        { ...before.sources[0], files: [
          { path: 'media/wide-1.mov', start: '10:00:00;00', frames: 1000, rate: '29.97df', channels: 0, size: 4096 },
          { path: 'media/wide-2.mov', start: '10:00:33;10', frames: 1000, rate: '29.97df', channels: 0, size: 4096 },
        ] },
        { id: '2', name: 'Close', files: [{ path: 'media/closeup.mov', start: '10:00:00;00', frames: 1000, rate: '29.97df', channels: 0, size: 4096 }] },
        before.sources[2],
        { id: 'oven', name: 'oven', files: [{ path: 'media/oven.mov', start: '00:00:00;05', frames: 1000, rate: '29.97df', channels: 0, size: 4096 }] },
      ],
      program: { ...before.program, files: [{ path: 'media/PGM.mov', start: '00:00:00;05', frames: 1000, rate: '29.97df', channels: 0, size: 4096 }] },
    });
    for (const line of SHOW.split('\n').filter((one) => one.includes('Slides') || one.includes('title') || one.includes('audio'))) expect(text).toContain(line);
  });

  test('twice gives the same text', () => {
    const files = [...WIDE, made('closeup.mov', { start: 1_078_920 }), made('oven.mov', { start: 5 })];
    const once = write(files, SHOW).text;
    expect(write(files, once)).toEqual({ text: once, problems: [] });
  });

  test('what somebody wrote wins, and the difference is told; with force the recording wins', () => {
    const mine = '{ "sources": [{ "id": "1", "files": [{ "path": "media/wide-1.mov", "start": "09:00:00;00", "frames": 5, "rate": "29.97" }] }] }';
    const kept = write([made('wide-1.mov', { start: 1_078_920 })], mine);
    expect(parsed(kept.text)).toEqual({ sources: [{ id: '1', files: [{ path: 'media/wide-1.mov', start: '09:00:00;00', frames: 5, rate: '29.97', channels: 0, size: 4096 }] }] });
    expect(kept.problems.map(({ code, severity }) => `${severity} ${code}`)).toEqual(['warning bad-show-file', 'warning bad-show-file']);
    expect(kept.problems[0]?.message).toContain("start of source '1' is 09:00:00;00, and the recording says 10:00:00;00");
    const forced = write([made('wide-1.mov', { start: 1_078_920 })], mine, true);
    expect(forced.problems).toEqual([]);
    expect(parsed(forced.text)).toEqual({ sources: [{ id: '1', files: [{ path: 'media/wide-1.mov', start: '10:00:00;00', frames: 1000, rate: '29.97', channels: 0, size: 4096 }] }] });
  });

  test('a label with another mark and a rate in another spelling are no difference', () => {
    const mine = '{ "sources": [{ "id": "1", "files": [{ "path": "media/wide-1.mov", "start": "10:00:00:00", "frames": 1000, "rate": "30000/1001df" }] }] }';
    expect(write([made('wide-1.mov', { start: 1_078_920 })], mine).problems).toEqual([]);
  });

  test('new parts of a source come in their place', () => {
    const mine = '{ "sources": [{ "id": "1", "files": [{ "path": "media/wide-1.mov" }, { "path": "media/wide-3.mov" }] }] }';
    const { text } = write([made('wide-1.mov', { start: 0 }), made('wide-2.mov', { start: 1000 }), made('wide-3.mov', { start: 2000 })], mine);
    expect((parsed(text) as { sources: { files: { path: string }[] }[] }).sources[0]?.files.map(({ path }) => path)).toEqual(['media/wide-1.mov', 'media/wide-2.mov', 'media/wide-3.mov']);
  });

  test('a source that was said not to be recorded, and was', () => {
    expect(write([made('slides.mov', { start: 0 })], SHOW).problems.map(({ message }) => message)).toEqual(['source \'4\' has "recorded": false, and recordings of it were found']);
  });

  test('a file of equal name and size is another recording where start or length differ, or another source is called like it', () => {
    const mine = '{ "sources": [{ "id": "desk1", "files": [{ "path": "gone/desk1/0001.wav", "start": "00:00:00;05", "frames": 1000, "size": 4096 }] }, { "id": "desk2" }] }';
    const paths = (files: readonly Placed[]): string[][] => {
      const { text } = write(files, mine, false, () => false);
      return (parsed(text) as { sources: { files?: { path: string }[] }[] }).sources.map((source) => (source.files ?? []).map(({ path }) => path));
    };
    const wav = (name: string, start: number, frames = 1000): Placed => made(name, { start, frames, sound: true });
    expect(paths([wav('desk1/0001.wav', 5)])).toEqual([['media/desk1/0001.wav'], []]);
    expect(paths([wav('desk1/0001.wav', 6)])).toEqual([['gone/desk1/0001.wav', 'media/desk1/0001.wav'], []]);
    expect(paths([wav('desk1/0001.wav', 5, 999)])).toEqual([['gone/desk1/0001.wav', 'media/desk1/0001.wav'], []]);
    expect(paths([wav('desk2/0001.wav', 5)])).toEqual([['gone/desk1/0001.wav'], ['media/desk2/0001.wav']]);
    expect(paths([wav('x/0001.wav', 5)])).toEqual([['media/x/0001.wav'], []]);
  });

  describe('cameras whose files are alike but for their folder, when they have moved', () => {
    const clip = (name: string, number = 1): Placed => made(`${name}/CLIP000${String(number)}.mov`, { start: 5 + 1000 * number, bytes: 4096 + number });
    const camera = (name: string, ...numbers: number[]): object => ({ id: name, files: numbers.map((number) => ({ path: `gone/${name}/CLIP000${String(number)}.mov`, start: number === 1 ? '00:00:33;15' : '00:01:06;27', frames: 1000, size: 4096 + number })) });
    const after = (files: readonly Placed[], sources: readonly object[], { isThere = false, force = false } = {}): { shown: string[]; said: string[]; problems: Problem[] } => {
      const { text, problems } = write(files, JSON.stringify({ sources }), force, () => isThere);
      const { sources: found } = parsed(text) as { sources: { id: string; files: { path: string }[] }[] };
      return { shown: found.map(({ id, files: all }) => `${id}: ${all.map(({ path }) => path).join(', ')}`), said: problems.map(({ code, place }) => `${code} ${place?.file ?? ''}`), problems };
    };
    const CAMERAS = [camera('cam1', 1), camera('cam2', 1), camera('cam3', 1)];

    test('each gets its own again where the folders are called as before', () => {
      const { shown, said } = after([clip('cam3'), clip('cam2'), clip('cam1')], CAMERAS);
      expect(shown).toEqual(['cam1: media/cam1/CLIP0001.mov', 'cam2: media/cam2/CLIP0001.mov', 'cam3: media/cam3/CLIP0001.mov']);
      expect(said).toEqual(['found media/cam1/CLIP0001.mov', 'found media/cam2/CLIP0001.mov', 'found media/cam3/CLIP0001.mov']);
    });

    test('also where the sources are called otherwise: by the likeness of the folders', () => {
      const renamed = CAMERAS.map((one, index) => ({ ...one, id: String(index) }));
      expect(after([clip('cam2'), clip('cam1')], renamed).shown).toEqual(['0: media/cam1/CLIP0001.mov', '1: media/cam2/CLIP0001.mov', '2: gone/cam3/CLIP0001.mov']);
    });

    test('nothing is changed where folders are called otherwise', () => {
      const { shown, problems, said } = after([clip('B'), clip('C')], CAMERAS.slice(0, 2));
      expect(shown).toEqual(['cam1: gone/cam1/CLIP0001.mov', 'cam2: gone/cam2/CLIP0001.mov']);
      expect(said).toEqual(['two-candidates media/B/CLIP0001.mov', 'two-candidates media/C/CLIP0001.mov']);
      expect(problems[0]?.message).toBe("it may be what source 'cam1' names at gone/cam1/CLIP0001.mov, or what source 'cam2' names at gone/cam2/CLIP0001.mov; nothing was changed; write its path into the show file");
    });

    test('nor where two files may be the one that is gone', () => {
      const { shown, problems } = after([clip('B'), clip('C')], CAMERAS.slice(0, 1));
      expect(shown).toEqual(['cam1: gone/cam1/CLIP0001.mov']);
      expect(problems.map(({ message }) => message)).toEqual(Array(2).fill("it may be what source 'cam1' names at gone/cam1/CLIP0001.mov, and so may another file; nothing was changed; write its path into the show file"));
    });

    test('a clip that only one camera has tells whose the rest of the folder is', () => {
      const { shown } = after([clip('B'), clip('C'), clip('C', 2)], [camera('cam1', 1, 2), camera('cam2', 1)]);
      expect(shown).toEqual(['cam1: media/C/CLIP0001.mov, media/C/CLIP0002.mov', 'cam2: media/B/CLIP0001.mov']);
    });

    test('copies beside a card that is there are told of, all of them; with force each takes its place', () => {
      const copies = [clip('cam1'), clip('cam2'), clip('cam3')];
      expect(after(copies, CAMERAS, { isThere: true })).toMatchObject({ shown: after([], CAMERAS).shown, said: copies.map(({ recording }) => `two-candidates ${recording.path}`) });
      expect(after(copies, CAMERAS, { isThere: true, force: true }).shown).toEqual(['cam1: media/cam1/CLIP0001.mov', 'cam2: media/cam2/CLIP0001.mov', 'cam3: media/cam3/CLIP0001.mov']);
    });
  });

  test('one with errors is not touched', () => {
    for (const broken of ['{ "sources": [', '{ "sourses": [] }', '[]', '']) {
      const { text, problems } = write(WIDE, broken);
      expect(text).toBeUndefined();
      expect(problems.some(({ severity, code }) => severity === 'error' && code === 'bad-show-file')).toBe(true);
    }
  });

  test('nor is one that would have errors afterwards: two rates in one source', () => {
    const mine = '{ "sources": [{ "id": "1", "name": "wide", "files": [{ "path": "old.mov", "rate": "25" }] }] }';
    const { text, problems } = write(WIDE, mine);
    expect(text).toBeUndefined();
    expect(problems.length).toBeGreaterThan(0);
    expect(new Set(problems.map(({ severity, code }) => `${severity} ${code}`))).toEqual(new Set(['error bad-show-file']));
  });

  test('many sources are told apart', () => {
    const files = Array.from({ length: 4000 }, (_, index) => made(`s${String(index)}x/a.mov`, { start: 0 }));
    const first = write(files).text;
    const more = [...files, ...Array.from({ length: 4000 }, (_, index) => made(`t${String(index)}x/a.mov`, { start: 0 }))];
    const { text } = write(more, first);
    expect((parsed(text) as { sources: unknown[] }).sources.length).toBe(8000);
  });
});
