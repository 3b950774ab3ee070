/** Recordings made by ffmpeg, and what ffprobe and mediainfo say of them. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { run } from './support.js';

export interface Shape {
  readonly name: string;
  /** ffmpeg's rate. */
  readonly rate?: string;
  readonly frames?: number;
  readonly timecode?: string;
  /** Channels of each sound track. */
  readonly sound?: readonly number[];
  readonly options?: readonly string[];
}

/** Makes a recording; the container follows from the name. */
export function makeRecording(folder: string, { name, rate, frames = 0, timecode, sound = [], options = [] }: Shape): string {
  const path = join(folder, name);
  const picture = rate === undefined ? [] : ['-f', 'lavfi', '-i', `testsrc2=s=192x108:r=${rate}`];
  const tracks = sound.flatMap((channels) => ['-f', 'lavfi', '-i', `anoisesrc=r=48000:a=0.1,aformat=channel_layouts=${String(channels)}c`]);
  const maps = [...(rate === undefined ? [] : [0]), ...sound.map((_, index) => index + (rate === undefined ? 0 : 1))].flatMap((input) => ['-map', String(input)]);
  execFileSync('ffmpeg', [
    '-hide_banner', '-loglevel', 'error', '-y', ...picture, ...tracks, ...maps,
    ...(rate === undefined ? [] : ['-frames:v', String(frames), '-t', String((frames * 1.2) / fps(rate) + 0.5)]),
    ...(timecode === undefined ? [] : ['-timecode', timecode]),
    ...options, path,
  ], { stdio: ['ignore', 'ignore', 'pipe'] });
  return path;
}

function fps(rate: string): number {
  const [num = '1', den = '1'] = rate.split('/');
  return Number(num) / Number(den);
}

interface Stream {
  readonly codec_type: string;
  readonly r_frame_rate: string;
  readonly avg_frame_rate: string;
  readonly width?: number;
  readonly height?: number;
  readonly field_order?: string;
  readonly channels?: number;
  readonly sample_rate?: string;
  readonly nb_read_packets?: string;
  readonly duration_ts?: number;
  readonly tags?: Readonly<Record<string, string>>;
}

export interface Judged {
  readonly frames: number | undefined;
  readonly rates: readonly string[];
  readonly timecode: string | undefined;
  readonly size: string | undefined;
  readonly scan: string | undefined;
  readonly channels: number;
  readonly sampleRate: number | undefined;
  readonly bytes: number;
  readonly timeReference: number | undefined;
}

const SCANS: Readonly<Record<string, string>> = { progressive: 'progressive', tt: 'top first', tb: 'top first', bb: 'bottom first', bt: 'bottom first' };

/** ffprobe's answers. Frames are the packets that it reads, one a frame. */
export function byFfprobe(path: string): Judged {
  const out = JSON.parse(run('ffprobe', ['-v', 'error', '-count_packets', '-show_streams', '-show_format', '-of', 'json', path])) as {
    streams: Stream[]; format: { size: string; tags?: Readonly<Record<string, string>> };
  };
  const video = out.streams.find(({ codec_type: type }) => type === 'video');
  const audio = out.streams.filter(({ codec_type: type }) => type === 'audio');
  const tag = (name: string): string | undefined =>
    [...out.streams.map(({ tags }) => tags), out.format.tags].flatMap((tags) => Object.entries(tags ?? {})).find(([key]) => key.toLowerCase() === name)?.[1];
  const rate = audio[0]?.sample_rate;
  const reference = tag('time_reference');
  return {
    frames: video?.nb_read_packets === undefined ? undefined : Number(video.nb_read_packets),
    // The first is guessed from rounded times where a container has no rate of its own.
    rates: video === undefined ? [] : [video.r_frame_rate, video.avg_frame_rate],
    timecode: tag('timecode'),
    size: video === undefined ? undefined : `${String(video.width)}x${String(video.height)}`,
    scan: video?.field_order === undefined ? undefined : SCANS[video.field_order],
    channels: audio.reduce((sum, { channels = 0 }) => sum + channels, 0),
    sampleRate: rate === undefined ? undefined : Number(rate),
    bytes: Number(out.format.size),
    timeReference: reference === undefined ? undefined : Number(reference),
  };
}

type Fields = Readonly<Record<string, string | Readonly<Record<string, string>> | undefined>>;

/** What Debian's mediainfo says. */
export function byMediainfo(path: string): Judged {
  const { media } = JSON.parse(run('mediainfo', ['--Full', '--Output=JSON', path])) as { media: { track: Fields[] } };
  const of = (type: string): Fields[] => media.track.filter((track) => track['@type'] === type);
  const field = (track: Fields | undefined, name: string): string | undefined => {
    const value = track?.[name] ?? (track?.['extra'] as Fields | undefined)?.[name];
    return typeof value === 'string' ? value : undefined;
  };
  const [general] = of('General');
  const [video] = of('Video');
  const audio = of('Audio');
  const code = [...of('Other'), ...of('Video'), ...of('General')].map((track) => field(track, 'TimeCode_FirstFrame')).find((label) => label !== undefined);
  const [num, den, plain] = [field(video, 'FrameRate_Num'), field(video, 'FrameRate_Den'), field(video, 'FrameRate')];
  const order = field(video, 'ScanOrder');
  const delay = field(audio[0], 'Delay_Source') === 'Container (bext)' ? field(audio[0], 'Delay') : undefined;
  const sampleRate = field(audio[0], 'SamplingRate');
  const frames = field(video, 'FrameCount');
  return {
    frames: frames === undefined ? undefined : Number(frames),
    rates: num !== undefined && den !== undefined ? [`${num}/${den}`] : plain === undefined ? [] : [plain],
    timecode: code,
    size: video === undefined ? undefined : `${field(video, 'Width') ?? ''}x${field(video, 'Height') ?? ''}`,
    scan: field(video, 'ScanType') === 'Progressive' ? 'progressive' : order === 'TFF' ? 'top first' : order === 'BFF' ? 'bottom first' : undefined,
    channels: audio.reduce((sum, track) => sum + Number(field(track, 'Channels') ?? 0), 0),
    sampleRate: sampleRate === undefined ? undefined : Number(sampleRate),
    bytes: Number(field(general, 'FileSize')),
    timeReference: delay === undefined ? undefined : Number(delay),
  };
}
