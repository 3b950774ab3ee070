/**
 * The committed recordings read back. What is in each is said by tests/media/make-fixtures.ts; tests/interop/media.test.ts compares bigger
 * ones with ffprobe and mediainfo. Label arithmetic: SMPTE ST 12-1.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { recordingOf, unread } from '../../src/media/facts.js';
import { bytesOf } from '../../src/media/bytes.js';
import { isUnread, probe, probeBytes } from '../../src/media/probe.js';
import { extentIn, type Recording } from '../../src/media/recording.js';
import { countName, parseRate } from '../../src/timecode/rate.js';
import { countOf, formatTimecode } from '../../src/timecode/timecode.js';
import type { Problem } from '../../src/problems.js';

const FOLDER = new URL('../../fixtures/media/', import.meta.url).pathname;

async function read(name: string): Promise<{ recording: Recording | undefined; problems: readonly Problem[] }> {
  const found = await probe(FOLDER + name);
  const { recording, problems } = isUnread(found) ? unread(found) : recordingOf(found);
  return { recording, problems };
}

const said = ({ problems }: { problems: readonly Problem[] }): string[] => problems.map(({ code, severity }) => `${severity} ${code}`);

/** Label of the first frame, count, frames. */
function extent({ recording }: { recording: Recording | undefined }): string {
  if (recording?.count === undefined) return 'no count';
  const start = recording.start === undefined ? '-' : formatTimecode(recording.start, recording.count);
  return `${start} ${countName(recording.count)} ${String(recording.frames)}`;
}

describe('recordings', () => {
  test.each([
    ['wide-1.mov', 'MOV', '10:00:59;24 29.97df 12'],
    ['wide-2.mov', 'MOV', '10:01:00;08 29.97df 12'],
    ['wide-3.mov', 'MOV', '10:01:01;00 29.97df 5'],
    ['slides.mp4', 'MP4', '10:00:59:13 25 10'],
    ['overhead.mkv', 'MKV', '10:00:59:24 30 13'],
    ['program.mxf', 'MXF', '10:00:59;24 29.97df 12'],
  ])('%s', async (name, container, expected) => {
    const facts = await read(name);
    expect(facts.recording?.container).toBe(container);
    expect(extent(facts)).toBe(expected);
    expect(facts.recording?.picture).toMatchObject({ width: 16, height: 16, varying: false });
    expect(facts.recording?.bytes).toBe(readFileSync(FOLDER + name).length);
    expect(facts.problems).toEqual([]);
  });

  test('the second file begins where the first ends: 10:00:59;24 and twelve frames', async () => {
    const [one, two] = [await read('wide-1.mov'), await read('wide-2.mov')];
    expect(two.recording?.start).toBe((one.recording?.start ?? 0) + (one.recording?.frames ?? 0));
  });

  test('a timecode track that counts pairs of frames: 10:00:59;24 at 29.97 is 10:00:59;48 at 59.94, and a note says so', async () => {
    const facts = await read('close.mov');
    expect(extent(facts)).toBe('10:00:59;48 59.94df 24');
    expect(facts.recording).toMatchObject({ label: '10:00:59;24', framePairs: true });
    expect(said(facts)).toEqual(['note found']);
    expect(facts.problems[0]?.message).toContain('10:00:59;24 at 29.97 is 10:00:59;48 at 59.94');
  });

  test('a timecode track that jumps is reported, one that goes on in another entry is not', async () => {
    const jump = await read('jump.mov');
    expect(extent(jump)).toBe('10:00:00:00 25 10');
    expect(said(jump)).toEqual(['warning timecode-jump']);
    const joined = await read('joined.mov');
    expect(extent(joined)).toBe('10:00:00:00 25 10');
    expect(said(joined)).toEqual([]);
  });

  test('a fragmented file whose end is missing: the frames of whole fragments count (15 of 20)', async () => {
    const facts = await read('fragments.mp4');
    expect(extent(facts)).toBe('- 25 15');
    expect(said(facts)).toEqual(['warning broken-recording']);
  });

  test('sound: channels, samples, and the time reference to the sample (EBU Tech 3285)', async () => {
    const { recording } = await read('desk.wav');
    expect(recording?.sound).toEqual({ channels: 2, sampleRate: 8000, samples: 2000, timeReference: 36_036 * 8000 + 17 });
    expect(recording?.container).toBe('BWF');
    expect(recording?.picture).toBeUndefined();
    expect(recording === undefined ? undefined : extentIn(recording, undefined)).toBeUndefined();
  });

  test('sound on frames: 36,036 s are 1,080,000 frames of 29.97 to the frame; a quarter second ends in the middle of the eighth', async () => {
    const { recording } = await read('desk.wav');
    const rate = parseRate('29.97');
    if (recording === undefined || !('rate' in rate)) throw new Error('not read');
    for (const drop of [true, false]) {
      expect(extentIn(recording, countOf(rate.rate, drop))).toMatchObject({ start: 1_080_000, frames: 8 });
    }
  });
});

describe('what is broken', () => {
  test('a recording whose index was never written', async () => {
    const facts = await read('broken.mov');
    expect(facts.recording).toBeUndefined();
    expect(said(facts)).toEqual(['error broken-recording']);
    expect(facts.problems[0]?.place?.file).toBe(`${FOLDER}broken.mov`);
  });

  test.each([
    ['nothing', Buffer.alloc(0)],
    ['text', Buffer.from('hello, world\n')],
    ['zeros', Buffer.alloc(100_000)],
    ['noise', Buffer.from(Array.from({ length: 100_000 }, (_, index) => (index * 2_654_435_761) >>> 24))],
    ['the first bytes of a MOV', readFileSync(`${FOLDER}wide-1.mov`).subarray(0, 40)],
    ['the first bytes of an MXF', readFileSync(`${FOLDER}program.mxf`).subarray(0, 300)],
    ['the first bytes of a Matroska file', readFileSync(`${FOLDER}overhead.mkv`).subarray(0, 60)],
    ['a WAV without its data', readFileSync(`${FOLDER}desk.wav`).subarray(0, 20)],
  ])('%s', async (_, bytes) => {
    const found = await probeBytes('x.mov', bytesOf(bytes));
    const facts = isUnread(found) ? unread(found) : recordingOf(found);
    expect(facts.recording).toBeUndefined();
    expect(said(facts)).toEqual(['error broken-recording']);
  });

  test('any file cut anywhere is read or reported, never thrown, and never longer than it was', async () => {
    for (const name of ['wide-1.mov', 'slides.mp4', 'overhead.mkv', 'desk.wav', 'program.mxf', 'fragments.mp4']) {
      const bytes = readFileSync(FOLDER + name);
      const whole = (await read(name)).recording?.frames ?? Infinity;
      for (let cut = 1; cut < bytes.length; cut += Math.max(7, Math.floor(bytes.length / 60))) {
        const found = await probeBytes(name, bytesOf(bytes.subarray(0, cut)));
        const { recording, problems } = isUnread(found) ? unread(found) : recordingOf(found);
        expect(recording?.frames ?? 0, `${name} cut at ${String(cut)}`).toBeLessThanOrEqual(whole);
        // Its data begins at byte 654, four bytes a sample.
        if (name === 'desk.wav') expect(recording?.sound?.samples ?? 0, `${name} cut at ${String(cut)}`).toBe(Math.max(0, Math.floor((cut - 654) / 4)));
        if (recording === undefined) expect(problems.some(({ severity }) => severity === 'error'), `${name} cut at ${String(cut)}`).toBe(true);
      }
    }
  });

  test('a folder and a file that is not there', async () => {
    for (const path of [FOLDER, `${FOLDER}gone.mov`]) expect(isUnread(await probe(path))).toBe(true);
  });
});
