/** From the library's words to a recording: what real files seldom show. Fields are MediaInfoLib's. */
import { describe, expect, test } from 'vitest';
import { recordingOf, type Facts } from '../../src/media/facts.js';
import type { Probe, Track } from '../../src/media/probe.js';
import { countName } from '../../src/timecode/rate.js';
import { formatTimecode } from '../../src/timecode/timecode.js';

const video = (fields: Track): Track => ({ '@type': 'Video', Width: 1920, Height: 1080, ScanType: 'Progressive', FrameCount: 100, ...fields });
const code = (label: string, fields: Track = {}): Track => ({ '@type': 'Other', Type: 'Time code', TimeCode_FirstFrame: label, ...fields });
const rate = (num: number, den: number): Track => ({ FrameRate: num / den, FrameRate_Num: num, FrameRate_Den: den });

function facts(tracks: readonly Track[], more: Partial<Probe> = {}): Facts {
  return recordingOf({ path: 'x', bytes: 1, fragmented: false, cutOff: 0, tracks: [{ '@type': 'General', Format: 'MPEG-4', Format_Profile: 'QuickTime' }, ...tracks], ...more });
}

function shown({ recording, problems }: Facts): string {
  const { count, start, frames } = recording ?? {};
  const label = count === undefined || start === undefined ? '-' : formatTimecode(start, count);
  return [label, count === undefined ? '-' : countName(count), String(frames ?? '-'), ...problems.map(({ severity, code: name }) => `${severity}:${name}`)].join(' ');
}

describe('what the library says', () => {
  test.each<[string, readonly Track[], string]>([
    ['the material package of an MXF comes first', [video(rate(25, 1)), code('01:00:00:00', { TimeCode_Settings: 'Source Package', ...rate(25, 1) }), code('10:00:00:00', { TimeCode_Settings: 'Material Package', ...rate(25, 1) })], '10:00:00:00 25 100'],
    ['labels in the stream itself are not used', [video({ ...rate(25, 1), TimeCode_FirstFrame: '00:00:00:00', TimeCode_Source: 'Group of pictures header' })], '- 25 100'],
    ['frame pairs at 50', [video(rate(50, 1)), code('10:00:00:24', rate(25, 1))], '10:00:00:48 50 100 note:found'],
    ['frame pairs at 59.94, over the labels that are skipped', [video(rate(60_000, 1001)), code('10:01:00;02', rate(30_000, 1001))], '10:01:00;04 59.94df 100 note:found'],
    ['a timecode track at another nominal rate is not used', [video(rate(25, 1)), code('10:00:00:00', rate(30, 1))], '- 25 100 warning:rate-differs'],
    ['one that counts 24 beside 23.976 is', [video(rate(24_000, 1001)), code('10:00:00:23', rate(24, 1))], '10:00:00:23 23.976 100'],
    ['a drop-frame mark where there is no drop-frame', [video(rate(25, 1)), code('10:00:00;24', rate(25, 1))], '10:00:00:24 25 100'],
    ['a label that does not exist', [video(rate(30_000, 1001)), code('10:01:00;00', rate(30_000, 1001))], '- 29.97 100 warning:bad-time'],
    ['a rate that containers of milliseconds give', [video({ FrameRate: 29.97, FrameRate_Num: 29_970, FrameRate_Den: 1000 }), code('10:00:00;00')], '10:00:00;00 29.97df 100'],
    ['a rate without a fraction', [video({ FrameRate: 59.94 })], '- 59.94 100'],
    ['a rate of no standard', [video({ FrameRate: 12 })], '- - - warning:bad-rate'],
    ['frames that are not evenly spaced', [video({ FrameRate: 27.31, FrameRate_Mode: 'VFR' })], '- - - warning:variable-rate'],
    ['a file without a count of frames', [video({ ...rate(25, 1), FrameCount: undefined })], '- 25 - warning:broken-recording'],
    ['sound with a timecode track of its own', [{ '@type': 'Audio', SamplingRate: 48_000, SamplingCount: 48_000, Channels: 1 }, code('10:00:00:00', rate(25, 1))], '10:00:00:00 25 25'],
  ])('%s', (_, tracks, expected) => {
    expect(shown(facts(tracks))).toBe(expected);
  });

  test('sound tracks are counted together', () => {
    const track = (channels: number): Track => ({ '@type': 'Audio', SamplingRate: 48_000, SamplingCount: 96_000, Channels: channels });
    expect(facts([video(rate(25, 1)), track(1), track(2), track(6)]).recording?.sound).toEqual({ channels: 9, sampleRate: 48_000, samples: 96_000 });
  });

  test('Matroska: frames by the timestamps, whatever the library says; without them, none', () => {
    const tracks = [video({ ...rate(30_000, 1001), FrameCount: 150, CodecID: 'V_MPEG4/ISO/AVC' })];
    expect(shown(facts(tracks, { span: { first: 21e6, last: 21e6 + 3_303e6, cutOff: false } }))).toBe('- 29.97 100');
    expect(shown(facts(tracks))).toBe('- 29.97 - warning:broken-recording');
    expect(shown(facts(tracks, { span: { first: 0, last: 3_303e6, cutOff: true } }))).toBe('- 29.97 100 warning:broken-recording');
  });

  test('Matroska below 64 KiB: what the library says twice is said once (MediaInfoLib 26.05)', () => {
    const span = { first: 0, last: 3_303e6, cutOff: false };
    const tracks = (mode: string): Track[] => [
      { '@type': 'General', Format: 'Matroska', extra: { TimeCode_FirstFrame: '10:00:05;00 / 10:00:05;00', TimeCode_Source: 'Matroska tags / Matroska tags' } },
      video({ ...rate(30_000, 1001), FrameRate_Mode: mode }),
    ];
    expect(shown(facts(tracks('CFR / CFR'), { span }))).toBe('10:00:05;00 29.97df 100');
    expect(shown(facts(tracks('VFR / VFR'), { span }))).toBe('10:00:05;00 29.97df 100 warning:variable-rate');
  });

  test('a fragmented file carries rounded times: the library takes its rate for varying, and it is not', () => {
    const tracks = [video({ FrameRate: 29.97, FrameRate_Num: 29_970, FrameRate_Den: 1000, FrameRate_Mode: 'VFR' })];
    expect(shown(facts(tracks, { fragmented: true }))).toBe('- 29.97 100');
    expect(shown(facts(tracks, { fragmented: true, cutOff: 9 }))).toBe('- 29.97 100 warning:broken-recording');
    expect(shown(facts(tracks))).toBe('- 29.97 100 warning:variable-rate');
  });

  test('an index that promises frames which never came', () => {
    const general: Track = { '@type': 'General', Format: 'MPEG-4', extra: { IsTruncated: 'Yes' } };
    expect(recordingOf({ path: 'x', bytes: 1, fragmented: false, cutOff: 5, tracks: [general, video(rate(25, 1))] }).recording).toBeUndefined();
  });
});
