/** Reads an OpenTimelineIO file as a cut list. */
import { BLACK, type Angle, type CutList, type Marker, type Shot } from '../../cutlist/model.js';
import { framesText } from '../../frames-text.js';
import { reportFaults, type Report } from '../../problems.js';
import type { Count, RateSpec } from '../../timecode/rate.js';
import { formatTimecode, framesPerDay } from '../../timecode/timecode.js';
import { Document, metadataAt, objectAt, objectsAt, schemaOf, textAt, type At } from './document.js';
import type { Item } from './items.js';
import { NESTED } from './layers.js';
import { clipMarkers, markersOf, type RecordSide } from './markers.js';
import { OURS } from './schema.js';
import { soundOf } from './sound.js';
import { SourceTable } from './sources.js';
import { stretchesOf, type Read } from './stretches.js';
import { shotOf, takesOf } from './takes.js';
import { inFrames, rangeAt, timeAt } from './times.js';
import { layersOf, type Layer } from './tracks.js';
import { whichRate } from './which-rate.js';
import { toFrame } from './whole.js';

/** How an OTIO is read. */
export interface ReadOtioOptions {
  /** Name for messages. */
  readonly file: string;
  /** Says how labels count; a rate that is not the file's is an error. */
  readonly rate?: RateSpec;
}

/**
 * The cut list of an OpenTimelineIO document, in schema versions up to Clip.2 and Marker.2; undefined when errors were
 * reported. What linecut wrote comes back the same. In other files gaps and what is disabled become black, nested
 * compositions are laid flat, and clips tell sources apart by reel, else name, else file. Problems: `bad-otio`, `bad-rate`, `left-out`,
 * `no-events`, `transition-cut-short`, `short-handle`, `hole`, notes of what was chosen; each names the path in the document.
 */
export function readOtio(text: string, options: ReadOtioOptions, report: Report): CutList | undefined {
  if (reportFaults(report, options.rate)) return undefined;
  const parsed = Document.parse(text, options.file, report);
  if (parsed === undefined) return undefined;
  const { document } = parsed;
  const timeline = timelineOf(document, parsed.root);
  const stack = timeline === undefined ? undefined : stackOf(document, timeline);
  if (timeline === undefined || stack === undefined) return undefined;
  const count = whichRate(document, timeline, options.rate);
  if (count === undefined) return undefined;
  const list = listOf(document, timeline, stack, count);
  return document.hasErrors ? undefined : list;
}

function timelineOf(document: Document, root: At): At | undefined {
  const schema = document.schema(root);
  if (schema === 'Timeline' || schema === 'Stack' || schema === 'Track') return root;
  if (schema === 'SerializableCollection' || schema === 'SerializeableCollection') {
    const timelines = [...objectsAt(root, 'children')].filter((child) => schemaOf(child) === 'Timeline');
    if (timelines.length > 1) document.add('found', root.where, `the file holds ${String(timelines.length)} timelines; the first is read`);
    if (timelines[0] !== undefined) return timelines[0];
  }
  document.add('bad-otio', root.where, schema === '' ? 'no OTIO_SCHEMA: this is not an OpenTimelineIO file' : `expected a Timeline, found a ${schema}`);
  return undefined;
}

/** The stack of a timeline. A stack or track that stands alone is taken as a timeline of it. */
function stackOf(document: Document, timeline: At): At | undefined {
  const schema = schemaOf(timeline);
  if (schema === 'Stack') return timeline;
  if (schema === 'Track') return { members: { children: [timeline.members] }, where: timeline.where };
  const stack = objectAt(timeline, 'tracks');
  if (stack === undefined) document.add('bad-otio', timeline.where, 'a Timeline has no tracks');
  else document.schema(stack);
  return stack;
}

function listOf(document: Document, timeline: At, stack: At, count: Count): CutList | undefined {
  const { rate } = count;
  const layers = layersOf(document, stack, rate);
  const played = [...(layers.picture === undefined ? [] : [layers.picture]), ...layers.sound];
  if (!played.some(({ items }) => items.length > 0)) {
    document.add('no-events', stack.where, 'the timeline has no clips');
    return undefined;
  }
  const zero = Math.min(...played.map(({ start }) => start));
  const sources = new SourceTable(document, timeline, count);
  const read = ({ items, start }: Layer, of: 'picture' | 'others' = 'others'): Read[] => stretchesOf(document, items, start - zero, count, sources, of);
  const picture = layers.picture === undefined ? [] : read(layers.picture, 'picture');
  const sound = layers.sound.map((layer) => ({ channel: layer.channel, stretches: read(layer) }));
  const angles = layers.angles.map((layer) => ({ source: layer.source, stretches: read({ ...layer, start: zero }) }));
  const end = [...sound.map(({ stretches }) => stretches), picture].reduce((most, stretches) => Math.max(most, stretches.at(-1)?.out ?? 0), 0);
  const covered = covering(picture, end, layers.picture?.track ?? stack);

  const { takes, takeOf } = takesOf(document, timeline, covered, end);
  const shots: Shot[] = [];
  for (const stretch of covered) shots.push(shotOf(stretch, takeOf(stretch), shots.at(-1), (id): id is string => id === BLACK || sources.has(id)));
  const audio = soundOf(document, sound, shots, (stretch) => ({ take: takeOf(stretch), continues: metadataAt(stretch.item.at, OURS)?.['continues'] === true }));
  const start = timeAt(document, timeline, 'global_start_time');
  const recordStart = toFrame(start === undefined ? 0 : inFrames(start, rate)) + zero;
  if (covered.length > picture.length) sayUncovered(document, layers.picture, covered, picture, (frame) => formatTimecode(recordStart + frame, count));
  const shown = new Set(shots.map((shot) => shot.source));
  const all = sources.all.map((source) => (source.picture || !shown.has(source.id) ? source : { ...source, picture: true }));
  const order = new Map(all.map(({ id }, index) => [id, index]));
  const alternatives = angles
    .filter(({ source }) => order.has(source))
    .map(({ source, stretches }): Angle => ({ source, pieces: stretches.filter((piece) => piece.source === source && piece.out <= end).map((piece) => pieceOf(piece, takeOf(piece))) }))
    .sort((a, b) => (order.get(a.source) ?? 0) - (order.get(b.source) ?? 0));
  return {
    title: textAt(timeline, 'name'),
    count,
    recordStart: recordStart >= 0 ? recordStart : recordStart + framesPerDay(count),
    frames: end,
    sources: all,
    takes,
    shots,
    audio,
    markers: allMarkers(
      document,
      stack,
      { tracks: layers.picture === undefined ? [] : [layers.picture.track], stretches: picture },
      { tracks: layers.sound.map(({ track }) => track), stretches: sound.flatMap(({ stretches }) => stretches) },
      { rate, recordStart, frames: end },
      zero,
    ),
    ...(angles.length === 0 ? {} : { angles: alternatives }),
  };
}

const pieceOf = ({ in: from, out, sourceIn, sourceOut, file }: Read, take: number): Angle['pieces'][number] => ({
  in: from,
  out,
  sourceIn,
  sourceOut,
  take,
  ...(file === undefined ? {} : { file }),
});

/** Says where the picture has black because there is sound and no picture: a hole, as in an EDL, unless the timeline is of sound alone. */
function sayUncovered(document: Document, layer: Layer | undefined, covered: readonly Read[], picture: readonly Read[], label: (frame: number) => string): void {
  const [first, last] = [picture[0], picture.at(-1)];
  if (layer === undefined || first === undefined || last === undefined) {
    document.note('where there is sound and no picture, the picture is black');
    return;
  }
  const say = (what: string, frames: number, at: At): void => { document.add('hole', at.where, `${what}: ${framesText(frames)} of black`, 'warning'); };
  if (first.in > 0) say('only sound before the first picture', first.in, first.item.at);
  const end = covered.at(-1)?.out ?? last.out;
  if (end > last.out) say(`no picture from ${label(last.out)} to the end of the sound`, end - last.out, last.item.at);
}

/** The stretches of the picture with black before and after, so that they cover [0, end). */
function covering(picture: readonly Read[], end: number, at: At): Read[] {
  const black = (from: number, to: number): Read[] => {
    if (to <= from) return [];
    const item: Item = { kind: 'gap', at: { members: {}, where: at.where }, start: undefined, skip: 0, length: to - from };
    return [{ item, source: BLACK, cut: from, tail: 0, in: from, out: to, sourceIn: 0, sourceOut: to - from, take: 0 }];
  };
  const first = picture[0]?.in ?? end;
  return [...black(0, first), ...picture, ...black(picture.at(-1)?.out ?? end, end)];
}

/** What has markers: tracks, and what was read of them. */
interface Marked {
  readonly tracks: readonly At[];
  readonly stretches: readonly Read[];
}

/** Markers in order of their frame; one on sound that stands at the same frame with the same note elsewhere counts once. */
function allMarkers(document: Document, stack: At, picture: Marked, sound: Marked, side: RecordSide, zero: number): Marker[] {
  const startOf = (at: At): number => {
    const range = rangeAt(document.quiet, at, 'source_range');
    return range === undefined ? 0 : inFrames(range.start, side.rate);
  };
  const cut = -startOf(stack);
  const on = function* ({ tracks, stretches }: Marked): Generator<Marker> {
    for (const track of new Set(tracks)) if (NESTED.has(schemaOf(track))) yield* markersOf(document, track, cut - startOf(track) - zero, side);
    for (const stretch of stretches) yield* clipMarkers(document, stretch, side);
  };
  const markers = [...markersOf(document, stack, cut, side), ...on(picture)];
  const keyOf = ({ at, note }: Marker): string => `${String(at)} ${note}`;
  const seen = new Set(markers.map(keyOf));
  for (const marker of on({ ...sound, tracks: sound.tracks.filter((track) => !picture.tracks.includes(track)) })) {
    if (!seen.has(keyOf(marker))) markers.push(marker);
    seen.add(keyOf(marker));
  }
  return markers.sort((a, b) => a.at - b.at);
}
