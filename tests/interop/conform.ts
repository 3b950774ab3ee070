/**
 * Cuts a program with ffmpeg from an EDL alone, as an editing system does: reel and source timecode find the file, the record side says how
 * long. Knows nothing of linecut; labels are read by smpte-timecode 1.3, layouts are SMPTE 258M (columns of the CMX3600 list), from memory.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import SmpteTimecode from 'smpte-timecode';
import { run } from './support.js';

/** Frames a second: num / den. */
export type Rate = readonly [num: number, den: number];

const perSecond = ([num, den]: Rate): number => num / den;
const isSame = (a: Rate, b: Rate): boolean => a[0] * b[1] === b[0] * a[1];

/** A recording on the disk, by ffprobe. */
interface File {
  readonly path: string;
  readonly start: number;
  readonly frames: number;
  readonly rate: Rate;
}

interface Line {
  readonly number: string;
  readonly reel: string;
  readonly kind: string;
  readonly mix: number;
  readonly labels: readonly string[];
  /** Frames a second that the source is played at, where a speed line says so. */
  speed?: number;
}

/** Source frames [first, first + frames) of a file, or black. */
interface Piece {
  readonly file: File | undefined;
  readonly first: number;
  readonly frames: number;
  /** Length on the record side. */
  readonly length: number;
}

/** One event: a picture, and where it comes on by a mix the piece that goes off meanwhile. */
interface Stretch {
  readonly from?: Piece;
  readonly piece: Piece;
}

const frameOf = (label: string, [num, den]: Rate): number => new SmpteTimecode(label, [num, den], label.includes(';')).frameCount;

interface Stream {
  readonly codec_type: string;
  readonly r_frame_rate: string;
  readonly avg_frame_rate: string;
  readonly nb_read_packets: string;
  readonly tags: { readonly timecode: string };
}

const rateOf = (text = ''): Rate => {
  const [num = 0, den = 1] = text.split('/').map(Number);
  return [num, den];
};

function probe(path: string): File {
  const { streams } = JSON.parse(run('ffprobe', ['-v', 'error', '-count_packets', '-show_streams', '-of', 'json', path])) as { streams: Stream[] };
  const picture = streams.find(({ codec_type: type }) => type === 'video');
  const track = streams.find(({ codec_type: type }) => type === 'data');
  if (picture === undefined || track === undefined) throw new Error(`${path}: no picture, or no timecode track`);
  const [rate, counted] = [rateOf(picture.r_frame_rate), rateOf(track.avg_frame_rate)];
  // A track of half the rate counts pairs of frames (SMPTE ST 12-1).
  const per = perSecond(rate) / perSecond(counted);
  if (per !== 1 && per !== 2) throw new Error(`${path}: timecode at an unexpected rate`);
  return { path, start: per * frameOf(picture.tags.timecode, counted), frames: Number(picture.nb_read_packets), rate };
}

const EVENT = /^(\d{3}) {2}(\S+) +V +(C|D|W\d{3})(?: +(\d{3}))? +(\S{11}) (\S{11}) (\S{11}) (\S{11})\s*$/;

/** The picture events of a list, and the files that its comments name for each reel. */
function parse(text: string): { lines: Line[]; files: Map<string, Set<string>> } {
  const lines: Line[] = [];
  const files = new Map<string, Set<string>>();
  let reel = '';
  for (const row of text.split('\r\n')) {
    const event = EVENT.exec(row);
    const speed = /^M2 +(\S+) +(\d+\.\d) /.exec(row);
    const file = /^\* SOURCE FILE: (.*)$/.exec(row)?.[1];
    if (event !== null) {
      const [, number = '', name = '', kind = '', mix = '0', ...labels] = event;
      reel = name;
      lines.push({ number, reel: name, kind, mix: Number(mix), labels });
    } else if (speed !== null) {
      const of = lines.findLast((line) => line.reel === speed[1]);
      if (of !== undefined) of.speed = Number(speed[2]);
    } else if (file !== undefined) files.set(reel, (files.get(reel) ?? new Set()).add(file));
    else if (row !== '' && !/^(?:TITLE|FCM):|^\*/.test(row)) throw new Error(`unexpected line: ${row}`);
  }
  return { lines, files };
}

/** Cuts the list at `path`, whose files lie relative to `folder`. Gives ffmpeg's arguments, and the record frames that it must make. */
export function conform(path: string, folder: string, rate: Rate): { args: string[]; frames: number } {
  const { lines, files } = parse(readFileSync(path, 'latin1'));
  const probed = new Map([...files].map(([reel, names]) => [reel, [...names].map((name) => probe(join(folder, name)))]));

  const pieceOf = (reel: string, label: string, speed: number | undefined, length: number): Piece => {
    if (reel === 'BL') return { file: undefined, first: 0, frames: length, length };
    const candidates = probed.get(reel) ?? [];
    const sourceRate = candidates[0]?.rate ?? rate;
    const first = frameOf(label, sourceRate);
    const frames = speed === undefined ? length : Math.round((length * speed) / perSecond(rate));
    const file = candidates.find(({ start, frames: all }) => first >= start && first < start + all);
    if (file === undefined) throw new Error(`no file of ${reel} holds ${label}`);
    if (first + frames > file.start + file.frames) throw new Error(`${file.path} ends inside the event at ${label}`);
    return { file, first: first - file.start, frames, length };
  };

  const stretches: Stretch[] = [];
  const zero = frameOf(lines[0]?.labels[2] ?? '', rate);
  let at = 0;
  for (const [index, line] of lines.entries()) {
    const [sourceIn = '', , recordIn = '', recordOut = ''] = line.labels;
    const [from, to] = [frameOf(recordIn, rate) - zero, frameOf(recordOut, rate) - zero];
    if (from !== at) throw new Error(`event ${line.number} begins at ${String(from)}, and the one before ends at ${String(at)}`);
    at = to;
    if (to === from) continue;
    if (line.kind === 'C') {
      stretches.push({ piece: pieceOf(line.reel, sourceIn, line.speed, to - from) });
      continue;
    }
    // The line before has the same number and no length: it says where the outgoing side goes on.
    const before = lines[index - 1];
    if (before?.number !== line.number) throw new Error(`event ${line.number} has no outgoing side`);
    stretches.push({
      from: pieceOf(before.reel, before.labels[0] ?? '', before.speed, line.mix),
      piece: pieceOf(line.reel, sourceIn, line.speed, to - from),
    });
  }
  return { args: graph(stretches, probed, rate), frames: at };
}

/** Ticks a second that hold a whole number of ticks in a frame of every rate here. */
const TICKS = 90_000;

/** ffmpeg's inputs and filters for the stretches: every picture is taken by its number, never by a time. */
function graph(stretches: readonly Stretch[], probed: ReadonlyMap<string, readonly File[]>, rate: Rate): string[] {
  const inputs = [...new Set([...probed.values()].flat())];
  const filters: string[] = [];
  let serial = 0;
  const size = run('ffprobe', ['-v', 'error', '-select_streams', 'v', '-show_entries', 'stream=width,height', '-of', 'csv=p=0:s=x', inputs[0]?.path ?? '']).trim();
  const stream = ({ file, first, length }: Piece): string => {
    const name = `[p${String(serial++)}]`;
    if (file === undefined) filters.push(`color=black:s=${size}:r=30,format=gray,trim=end_frame=${String(length)},settb=1/${String(TICKS)},setpts=N*${String(TICKS / perSecond(rate))}${name}`);
    else {
      const input = `[${String(inputs.indexOf(file))}:v]`;
      const step = TICKS / perSecond(file.rate);
      const last = first + (isSame(file.rate, rate) ? length : Math.ceil((length * perSecond(file.rate)) / perSecond(rate)) + 1);
      // At another rate, record frame k shows source frame ⌊k × source rate ÷ list rate⌋: round=up keeps a frame off screen until its time has come.
      const speed = isSame(file.rate, rate) ? '' : `,fps=${rate.join('/')}:round=up,trim=end_frame=${String(length)},settb=1/${String(TICKS)},setpts=N*${String(TICKS / perSecond(rate))}`;
      filters.push(`${input}format=gray,trim=start_frame=${String(first)}:end_frame=${String(last)},settb=1/${String(TICKS)},setpts=N*${String(step)}${speed}${name}`);
    }
    return name;
  };
  const label = (): string => `[p${String(serial++)}]`;
  const parts = stretches.flatMap(({ from, piece }) => {
    const incoming = stream(piece);
    if (from === undefined) return [incoming];
    const mix = String(from.length);
    // Weight of the incoming side, by the time since the mix began (the filter's frame count starts at 0 or at 1, by its version).
    const weight = `T*${String(perSecond(rate))}/${mix}`;
    const blend = `blend=all_expr='A*(1-${weight})+B*${weight}'`;
    const outgoing = stream(from);
    if (from.length === piece.length) {
      const mixed = label();
      filters.push(`${outgoing}${incoming}${blend}${mixed}`);
      return [mixed];
    }
    const [a, b, under, rest, mixed] = [label(), label(), label(), label(), label()];
    filters.push(`${incoming}split${a}${b}`, `${a}trim=end_frame=${mix}${under}`, `${b}trim=start_frame=${mix},setpts=PTS-STARTPTS${rest}`);
    filters.push(`${outgoing}${under}${blend}${mixed}`);
    return [mixed, rest];
  });
  filters.push(`${parts.join('')}concat=n=${String(parts.length)}:v=1:a=0,setpts=N[program]`);
  return [...inputs.flatMap(({ path }) => ['-i', path]), '-filter_complex', filters.join(';')];
}
