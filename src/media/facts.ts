/**
 * From the library's words to a Recording. Where the library is known not to be exact it is not believed: a Matroska file's
 * frames are counted by its timestamps, the length of a timecode track is ignored, and its "discontinuities" are checked.
 */
import { isFault, problem, type Code, type Problem, type Severity } from '../problems.js';
import { scale } from '../timecode/exact.js';
import { unmarked } from '../timecode/label.js';
import { framesPerLabel, type Count, type Rate } from '../timecode/rate.js';
import { countOf, formatTimecode, hasDropMark, parseTimecode } from '../timecode/timecode.js';
import type { Probe, Track, Unread } from './probe.js';
import type { Picture, Recording } from './recording.js';
import { containerOf, extra, number, rateIn, scanOf, soundOf, text, timecodeOf, type TrackCode } from './tracks.js';

/** What one file came to: a recording, or nothing, and what there is to say about it. */
export interface Facts {
  readonly recording?: Recording;
  readonly problems: readonly Problem[];
}

type Say = (code: Code, message: string, severity?: Severity) => void;

/** A file that could not be opened, as a problem. */
export const unread = ({ path, reason }: Unread): Facts => ({ problems: [problem('broken-recording', `${reason}; it was left out`, { file: path })] });

/**
 * Makes a Recording of what was read. Problems: `broken-recording` (neither picture nor sound, or its frames cannot be
 * counted because the end is missing; a warning where they can), `variable-rate`, `timecode-jump`, `rate-differs` (a timecode track
 * that does not fit the picture), `found` (frame pairs).
 */
export function recordingOf(probe: Probe): Facts {
  const { path, tracks } = probe;
  const problems: Problem[] = [];
  const say: Say = (code, message, severity) => void problems.push(problem(code, message, { file: path }, severity));
  const general = tracks.find((track) => track['@type'] === 'General') ?? {};
  const video = tracks.find((track) => track['@type'] === 'Video');
  const sound = soundOf(tracks.filter((track) => track['@type'] === 'Audio'));
  const truncated = extra(general, 'IsTruncated') === 'Yes';
  if (video === undefined && sound === undefined) {
    say('broken-recording', `${nothingFound(general, truncated)}; it was left out`);
    return { problems };
  }
  // An index at the front promises frames that never came; fragments and MXF are counted as they lie there.
  if (truncated && text(general, 'Format') === 'MPEG-4' && !probe.fragmented) {
    say('broken-recording', 'its end is missing, and nothing says how many frames are there; it was left out; copy it again');
    return { problems };
  }
  if (truncated || probe.span?.cutOff === true || (probe.fragmented && probe.cutOff > 0)) {
    say('broken-recording', 'the recording was cut off; the frames that are wholly there were counted', 'warning');
  }
  const picture = video === undefined ? undefined : pictureOf(video, probe);
  if (picture?.varying === true) {
    const about = picture.fps === undefined ? '' : `, about ${String(picture.fps)} a second`;
    say('variable-rate', `its frames are not evenly spaced${about}; no frame number says when it was shown; make a copy with a constant rate`);
  } else if (picture !== undefined && picture.rate === undefined) {
    say('bad-rate', `its rate of ${String(picture.fps ?? '?')} frames a second is none of SMPTE ST 12-1; it has no timecode for linecut`, 'warning');
  }
  if (picture?.rate !== undefined && picture.frames === undefined) say('broken-recording', 'its frames could not be counted', 'warning');
  const base: Recording = {
    path,
    bytes: probe.bytes,
    container: containerOf(general),
    ...(picture === undefined ? {} : { picture }),
    ...(sound === undefined ? {} : { sound }),
  };
  const code = timecodeOf(tracks);
  const rate = picture === undefined ? code?.rate : picture.rate;
  if (rate === undefined) return { recording: base, problems };
  const frames = picture?.frames ?? (picture === undefined && sound?.samples !== undefined ? scale(sound.samples, rate.num, rate.den * sound.sampleRate, 'floor') : undefined);
  const measured: Recording = { ...base, ...(frames === undefined ? {} : { frames }) };
  return { recording: code === undefined ? { ...measured, count: countOf(rate, false) } : withTimecode(measured, code, rate, say), problems };
}

function nothingFound(general: Track, truncated: boolean): string {
  const format = text(general, 'Format');
  if (format === undefined) return 'it is no recording that can be read (nothing in it says MOV, MP4, MXF, MKV or WAV)';
  if (truncated) return `it is a ${containerOf(general)} whose end is missing, and with it the index of its frames; was it still being copied or recorded?`;
  return `it is a ${containerOf(general)} with neither picture nor sound in it`;
}

function pictureOf(video: Track, { span, fragmented }: Probe): Picture {
  const rate = rateIn(video);
  const fps = number(video, 'FrameRate');
  const scan = scanOf(video);
  const isMatroska = span !== undefined || text(video, 'CodecID')?.startsWith('V_') === true;
  const counted = span === undefined || rate === undefined ? undefined : scale(Math.round(span.last - span.first), rate.num, rate.den * 1e9) + 1;
  const frames = isMatroska ? counted : number(video, 'FrameCount');
  return {
    width: number(video, 'Width') ?? 0,
    height: number(video, 'Height') ?? 0,
    ...(scan === undefined ? {} : { scan }),
    ...(rate === undefined ? {} : { rate }),
    ...(fps === undefined ? {} : { fps }),
    ...(frames === undefined ? {} : { frames }),
    // Fragments carry rounded times of their own, which the library takes for a varying rate.
    varying: text(video, 'FrameRate_Mode') === 'VFR' && !(fragmented && rate !== undefined),
  };
}

/** Puts the first frame on its label. `rate` is the picture's. */
function withTimecode(recording: Recording, code: TrackCode, rate: Rate, say: Say): Recording {
  const codeRate = code.rate ?? rate;
  const per = codeRate.nominal === rate.nominal ? 1 : framesPerLabel(codeRate, rate);
  if (per === undefined) {
    say('rate-differs', `its timecode counts ${codeRate.name} and its picture runs at ${rate.name}; the timecode was not used`);
    return { ...recording, count: countOf(rate, false) };
  }
  const drop = hasDropMark(code.label);
  const labels = countOf(per === 2 ? codeRate : rate, drop);
  const count = countOf(rate, drop);
  const start = frameOf(code.label, labels, per);
  if (start === undefined) {
    say('bad-time', `its timecode track begins with ${code.label}, which is no label at ${labels.rate.name}; the timecode was not used`, 'warning');
    return { ...recording, count: countOf(rate, false) };
  }
  if (per === 2) say('found', `its timecode counts pairs of frames (SMPTE ST 12-1): ${code.label} at ${codeRate.name} is ${formatTimecode(start, count)} at ${rate.name}`);
  if (code.broken) checkRun(recording, code, labels, per, start, say);
  return { ...recording, count, start, label: code.label, ...(per === 2 ? { framePairs: true } : {}) };
}

/** The frame of a label; a drop-frame mark where there is no drop-frame is a habit of some recorders, not a fault. */
function frameOf(label: string, labels: Count, per: number): number | undefined {
  const frame = parseTimecode(labels.dropFrame ? label : unmarked(label), labels);
  return isFault(frame) ? undefined : frame * per;
}

/**
 * Says so when the last label is not where the first one leads. The library calls every new entry of a timecode track a
 * discontinuity, also one that runs on, and counts one frame too many in some: only a difference of more than that is one.
 */
function checkRun(recording: Recording, code: TrackCode, labels: Count, per: number, start: number, say: Say): void {
  const last = code.last === undefined ? undefined : frameOf(code.last, labels, per);
  if (last === undefined || recording.frames === undefined) return;
  const expected = start + recording.frames - 1;
  if (Math.abs(last - expected) <= 2 * per) return;
  const lead = formatTimecode(Math.floor(expected / per), labels);
  say('timecode-jump', `its timecode jumps: from ${code.label}, ${String(recording.frames)} frames lead to ${lead}, and its last label is ${code.last ?? ''}`);
}
