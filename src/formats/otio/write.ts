/** Writes a cut list as an OpenTimelineIO file. */
import type { Angle, AudioPiece, CutList, Shot, Source } from '../../cutlist/model.js';
import { countName } from '../../timecode/rate.js';
import type { PATH_FORMS } from '../../file-url.js';
import { REEL_LENGTH, type REEL_LENGTHS } from '../edl/columns.js';
import { reelNames } from '../edl/reels.js';
import { ENDINGS } from '../endings.js';
import { CHUNK, type Output } from '../output.js';
import { alternativesOf } from './alternatives.js';
import { ClipMaker, type Extra } from './clips.js';
import { cutPoints, type Cut } from './cuts.js';
import { Double, doubleText, fill, JsonWriter, Slot, type Json, type Layout } from './json.js';
import { sourceFacts } from './references.js';
import { AUDIO, audioTrack, COLORS, OURS, PLAIN_COLOR, SCHEMA, VIDEO, VIDEO_TRACK } from './schema.js';
import { range, time } from './time-json.js';

/** How an OTIO is written. */
export interface OtioOptions {
  /** Media as absolute file URLs (default), or relative to `folder`. */
  readonly paths?: (typeof PATH_FORMS)[number];
  /** Absolute folder that the list's media paths are relative to. */
  readonly base: string;
  /** Absolute folder that relative URLs are written for; default `base`. */
  readonly folder?: string;
  /** Indented by two spaces a level; default one line. */
  readonly pretty?: boolean;
  /** Longest reel, as in the EDL of the same run; default 8. */
  readonly reelLength?: (typeof REEL_LENGTHS)[number];
  /** Writes the list's `angles` as disabled tracks under the cut. */
  readonly angles?: boolean;
}

/**
 * The list as one OpenTimelineIO document (`Timeline.1`, the reference library's serialized schema): the picture, one Audio
 * track a program channel, markers on the stack, what the format has no place for under `metadata.linecut`. Points
 * are whole frames of the list's rate. A mix that begins on a shot's `in` cuts `inOffset` frames later, so that each
 * clip keeps at least one frame. The same list gives the same bytes; a million shots are never one string.
 */
export function writeOtio(list: CutList, options: OtioOptions): Output {
  return { format: 'otio', suffix: ENDINGS.otio, chunks: timeline(list, options) };
}

/** The whole text, in chunks. One loop for all of it: a million items would go through each generator that stands between. */
function* timeline(list: CutList, options: OtioOptions): Generator<string> {
  const json = new JsonWriter(options.pretty ?? false);
  let text = '';
  for (const { before, items, depth } of sectionsOf(list, options, json)) {
    text += before;
    if (items === undefined) continue;
    const newline = json.newline(depth + 1);
    let separator = '[';
    for (const item of items) {
      text += separator + newline + item;
      separator = ',';
      if (text.length < CHUNK) continue;
      yield text;
      text = '';
    }
    text += separator === '[' ? '[]' : `${json.newline(depth)}]`;
  }
  yield text;
}

/** A section of the text: as it is, and then an array whose items come one by one, each a text. */
interface Section {
  readonly before: string;
  readonly items?: Iterable<string>;
  /** How deep the array lies. */
  readonly depth: number;
}

function* sectionsOf(list: CutList, options: OtioOptions, json: JsonWriter): Generator<Section> {
  const { pieces, slots } = documentOf(list, options, json);
  const depth = slots[0]?.depth ?? 0;
  yield { before: pieces[0] ?? '', items: markerTexts(list, json, depth + 1), depth };
  const children = slots[1]?.depth ?? 0;
  let before = `${pieces[1] ?? ''}[`;
  for (const { opening, items, depth: at, closing } of tracks(list, options, json, children + 1)) {
    yield { before: before + json.newline(children + 1) + opening, items, depth: at };
    before = `${closing},`;
  }
  yield { before: `${before.slice(0, -1)}${json.newline(children)}]${pieces[2] ?? ''}\n`, depth: 0 };
}

/** The document around its markers and tracks. */
function documentOf(list: CutList, options: OtioOptions, json: JsonWriter): Layout {
  return json.layout({
    OTIO_SCHEMA: SCHEMA.timeline,
    metadata: {
      [OURS]: {
        version: 1,
        rate: countName(list.count),
        sources: list.sources.map((source) => sourceFacts(source, options)),
        takes: list.takes.map((take) => ({ ...take })),
      },
    },
    name: list.title,
    global_start_time: time(new Double(list.recordStart), list.count.rate),
    tracks: {
      OTIO_SCHEMA: SCHEMA.stack,
      metadata: {},
      name: 'tracks',
      source_range: null,
      effects: [],
      markers: new Slot('markers'),
      enabled: true,
      children: new Slot('tracks'),
    },
  });
}

/** The markers at `depth`, one by one. */
function* markerTexts({ markers, count }: CutList, json: JsonWriter, depth: number): Generator<string> {
  const layout = json.layout(
    {
      OTIO_SCHEMA: SCHEMA.marker,
      metadata: new Slot('metadata'),
      name: new Slot('name'),
      color: new Slot('color'),
      marked_range: range(new Slot('at'), new Double(0), count.rate),
      comment: '',
    },
    depth,
  );
  for (const { at, note, color } of markers) {
    const standard = color !== undefined && COLORS.includes(color);
    const metadata = standard ? '{}' : json.text({ [OURS]: { color: color ?? null } }, depth + 1);
    yield fill(layout, metadata, JSON.stringify(note), JSON.stringify(standard ? color : PLAIN_COLOR), doubleText(at));
  }
}

/** A track: its text before and after the items, how deep their array lies, and the items as texts. */
interface TrackText {
  readonly opening: string;
  readonly items: Iterable<string>;
  readonly depth: number;
  readonly closing: string;
}

/** The tracks, from the bottom up: angles, picture, sound. */
function* tracks(list: CutList, options: OtioOptions, json: JsonWriter, depth: number): Generator<TrackText> {
  // A track's items lie two levels below it: in its object, in its array.
  const maker = new ClipMaker(list, options, json, depth + 2, reelOf(list, options.reelLength ?? REEL_LENGTH));
  const sound = new Set(list.sources.filter(({ picture }) => !picture).map(({ id }) => id));
  const angles = options.angles === true ? (list.angles ?? []) : [];
  const track = (name: string, kind: string, metadata: Json, enabled: boolean, items: Iterable<string>): TrackText => {
    const { pieces } = json.layout(
      { OTIO_SCHEMA: SCHEMA.track, metadata, name, source_range: null, effects: [], markers: [], enabled, children: new Slot('items'), kind },
      depth,
    );
    return { opening: pieces[0] ?? '', items, depth: depth + 1, closing: pieces[1] ?? '' };
  };
  const angleTrack = ({ source, pieces }: Angle, kind: string): TrackText => {
    const name = list.sources.find(({ id }) => id === source)?.name ?? source;
    const stretches = mapped(pieces, (piece): Extra => ({ ...piece, source }));
    return track(name, kind, { [OURS]: { angle: source } }, false, maker.items(cutPoints(stretches)));
  };
  for (const angle of angles) if (!sound.has(angle.source)) yield angleTrack(angle, VIDEO);
  const alternatives = alternativesOf(list);
  const beside = alternatives === undefined ? undefined : (cut: Cut<Shot>, { source }: Shot, at: number) => ['alternatives', json.text(alternatives(cut.in, cut.out, source), at)];
  yield track(VIDEO_TRACK, VIDEO, {}, true, maker.items<Shot>(cutPoints(list.shots), beside));
  const channels = list.audio.reduce((most, piece) => Math.max(most, ...piece.tracks), 0);
  for (let channel = 1; channel <= channels; channel += 1) {
    const items = maker.items<Numbered>(cutPoints(piecesOf(list.audio, channel)), (_, { piece, from, withPicture }) => [
      'piece', String(piece),
      'channel', from === channel ? undefined : String(from),
      'withPicture', withPicture ? 'true' : undefined,
    ]);
    yield track(audioTrack(channel), AUDIO, {}, true, items);
  }
  for (const angle of angles) if (sound.has(angle.source)) yield angleTrack(angle, AUDIO);
}

/** A sound piece with its number, and the source's channel that feeds the track at hand. */
type Numbered = AudioPiece & { readonly piece: number; readonly from: number };

function* piecesOf(audio: readonly AudioPiece[], channel: number): Generator<Numbered> {
  for (const [piece, given] of audio.entries()) {
    const index = given.tracks.indexOf(channel);
    if (index !== -1) yield { ...given, piece, from: given.channels[index] ?? channel };
  }
}

/** The reel that the EDL of this list has for a source. Where the EDL is refused for its reels, the reel as it was given. */
function reelOf(list: CutList, length: (typeof REEL_LENGTHS)[number]): (source: Source) => string {
  const reels = reelNames(list.sources, length, () => undefined);
  return (source) => reels?.get(source.id) ?? source.reel ?? source.name;
}

function* mapped<T, U>(items: Iterable<T>, map: (item: T) => U): Generator<U> {
  for (const item of items) yield map(item);
}
