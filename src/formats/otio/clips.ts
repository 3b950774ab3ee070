/** Clips, gaps and transitions as JSON text: what is the same for every clip of a recording is rendered once. */
import { BLACK, type CutList, type EventRef, type MediaFile, type Source } from '../../cutlist/model.js';
import { countName, type Rate } from '../../timecode/rate.js';
import { fileUrl, relativeUrl } from '../url.js';
import type { Cut, Stretch } from './cuts.js';
import { Double, doubleText, Slot, type Json, type JsonWriter, type Layout } from './json.js';
import { countsOf, DISSOLVE, EDL_KEY, fps, isRealSpeed, MEDIA_KEY, OURS, playedFrames, SCHEMA, sourceTime, transitionCode, WIPE } from './schema.js';
import type { OtioOptions } from './write.js';

/** What a clip may carry beside its points. */
export interface Extra extends Stretch {
  readonly source: string;
  readonly clipName?: string;
  readonly comments?: readonly string[];
  readonly continues?: boolean;
  readonly instead?: string;
  readonly event?: EventRef;
}

export const time = (value: Json, rate: Rate): Json => ({ OTIO_SCHEMA: SCHEMA.time, rate: new Double(fps(rate)), value });

export const range = (start: Json, duration: Json, rate: Rate): Json => ({
  OTIO_SCHEMA: SCHEMA.range,
  duration: time(duration, rate),
  start_time: time(start, rate),
});

/** The URL of a recording, as `--paths` wants it. */
export const mediaUrl = (path: string, { paths, base, folder }: OtioOptions): string =>
  paths === 'relative' ? relativeUrl(path, base, folder) : fileUrl(path, base);

/**
 * Makes the text of a track's items. One maker serves one track, or several that lie at the same depth.
 */
export class ClipMaker {
  readonly #list: CutList;
  readonly #options: OtioOptions;
  readonly #json: JsonWriter;
  readonly #depth: number;
  readonly #reelOf: (source: Source) => string;
  readonly #countOf: ReturnType<typeof countsOf>;
  readonly #sources: ReadonlyMap<string, Source>;
  readonly #layouts = new Map<string, Layout & { readonly plain: string }>();
  /** Names, ids and actions as JSON: a list has few, and writes each thousands of times. */
  readonly #quoted = new Map<string, string>();
  readonly #transition: Layout;
  readonly #gap: Layout;

  /** `depth`: of the items in the document. */
  constructor(list: CutList, options: OtioOptions, json: JsonWriter, depth: number, reelOf: (source: Source) => string) {
    this.#list = list;
    this.#options = options;
    this.#json = json;
    this.#depth = depth;
    this.#reelOf = reelOf;
    this.#countOf = countsOf(list);
    this.#sources = new Map(list.sources.map((source) => [source.id, source]));
    const { rate } = list.count;
    this.#transition = json.layout(
      {
        OTIO_SCHEMA: SCHEMA.transition,
        metadata: new Slot('metadata'),
        name: '',
        in_offset: time(new Slot('in'), rate),
        out_offset: time(new Slot('out'), rate),
        transition_type: new Slot('type'),
      },
      depth,
    );
    this.#gap = json.layout(
      {
        OTIO_SCHEMA: SCHEMA.gap,
        metadata: new Slot('metadata'),
        name: new Slot('name'),
        source_range: range(new Slot('start'), new Slot('duration'), rate),
        effects: [],
        markers: [],
        enabled: true,
      },
      depth,
    );
  }

  /**
   * The texts of the items of a track, each transition before the clip that it brings on. `ours` gives names and texts for
   * `metadata.linecut`, at the depth it is told, as `JsonWriter.members` takes them.
   */
  *items<T extends Extra>(cuts: Iterable<Cut<T>>, ours?: (cut: Cut<T>, stretch: T, depth: number) => readonly (string | undefined)[]): Generator<string> {
    for (const cut of cuts) {
      const { stretch } = cut;
      if (stretch === undefined) {
        yield fill(this.#gap, '{}', '""', doubleText(cut.out - cut.in), '0.0');
        continue;
      }
      if (stretch.transition !== undefined) yield this.#transitionText(stretch.transition, cut.lead);
      yield this.#clipText(cut, stretch, ours === undefined ? undefined : ours(cut, stretch, this.#depth + 3));
    }
  }

  #transitionText(transition: NonNullable<Stretch['transition']>, lead: number): string {
    const code = transitionCode(transition);
    const at = this.#depth + 2;
    const metadata = this.#json.members(at - 1, [
      EDL_KEY, code === undefined ? undefined : this.#json.members(at, ['transition', JSON.stringify(code)]),
      OURS, lead === transition.inOffset ? undefined : this.#json.members(at, ['inOffset', String(transition.inOffset)]),
    ]);
    return fill(this.#transition, metadata, doubleText(lead), doubleText(transition.frames - lead), JSON.stringify(transition.kind === 'wipe' ? WIPE : DISSOLVE));
  }

  #clipText({ in: from, out, lead }: Cut<Extra>, stretch: Extra, ours: readonly (string | undefined)[] | undefined): string {
    const list = this.#list.count.rate;
    const black = stretch.source === BLACK;
    const frames = stretch.out - stretch.in;
    const played = stretch.sourceOut - stretch.sourceIn;
    const source = this.#countOf(stretch.source).rate;
    const real = playedFrames(frames, source, list);
    const speed = black || isRealSpeed(played, real, source, list) ? 1 : played / real;
    const start = doubleText(sourceTime(stretch.sourceIn, source, list) + lead * speed);
    const duration = doubleText(out - from);
    const at = this.#depth + 2;
    const parts = [
      'source', black ? undefined : this.#quote(stretch.source),
      'sourceFrames', speed === 1 && played !== Math.floor(real + 0.5) ? String(played) : undefined,
      'take', stretch.take === 0 ? undefined : String(stretch.take),
      'continues', stretch.continues === undefined ? undefined : String(stretch.continues),
      'instead', stretch.instead === undefined ? undefined : JSON.stringify(stretch.instead),
      'event', stretch.event === undefined ? undefined : this.#eventText(stretch.event, at + 1),
    ];
    const own = this.#json.members(at, ours === undefined ? parts : parts.concat(ours));
    if (black) {
      const kept = comments(stretch);
      const metadata = this.#json.members(at - 1, [EDL_KEY, kept === undefined ? undefined : this.#json.text(kept, at), OURS, own]);
      return fill(this.#gap, metadata, JSON.stringify(stretch.clipName ?? ''), duration, start);
    }
    const layout = this.#layoutOf(stretch.source, stretch.file);
    const known = this.#sources.get(stretch.source);
    const edl = stretch.comments === undefined ? layout.plain : this.#json.text(this.#edlOf(known, stretch), at);
    const name = stretch.clipName === undefined ? this.#quote(known?.name ?? stretch.source) : JSON.stringify(stretch.clipName);
    return fill(layout, edl, own, name, duration, start, speed === 1 ? '[]' : this.#warpText(speed));
  }

  #quote(text: string): string {
    let quoted = this.#quoted.get(text);
    if (quoted === undefined) this.#quoted.set(text, quoted = JSON.stringify(text));
    return quoted;
  }

  #eventText({ number, action, note }: EventRef, depth: number): string {
    return this.#json.members(depth, ['number', String(number), 'action', this.#quote(action), 'note', note === undefined ? undefined : JSON.stringify(note)]);
  }

  #warpText(speed: number): string {
    return this.#json.text([{ OTIO_SCHEMA: SCHEMA.warp, metadata: {}, name: '', effect_name: 'LinearTimeWarp', enabled: true, time_scalar: new Double(speed) }], this.#depth + 1);
  }

  #edlOf(source: Source | undefined, stretch: Pick<Extra, 'comments'>): Json {
    return { reel: source === undefined ? undefined : this.#reelOf(source), ...comments(stretch) };
  }

  #layoutOf(id: string, file: number | undefined): Layout & { readonly plain: string } {
    const key = `${String(file)} ${id}`;
    const known = this.#layouts.get(key);
    if (known !== undefined) return known;
    const source = this.#sources.get(id);
    const layout = this.#json.layout(
      {
        OTIO_SCHEMA: SCHEMA.clip,
        metadata: { [EDL_KEY]: new Slot('edl'), [OURS]: new Slot('ours') },
        name: new Slot('name'),
        source_range: range(new Slot('start'), new Slot('duration'), this.#list.count.rate),
        effects: new Slot('effects'),
        markers: [],
        enabled: true,
        media_references: { [MEDIA_KEY]: this.#reference(source, file) },
        active_media_reference_key: MEDIA_KEY,
      },
      this.#depth,
    );
    const made = { ...layout, plain: this.#json.text(this.#edlOf(source, {}), this.#depth + 2) };
    this.#layouts.set(key, made);
    return made;
  }

  #reference(source: Source | undefined, index: number | undefined): Json {
    const file = index === undefined ? undefined : source?.files[index];
    if (source === undefined || file === undefined) return { OTIO_SCHEMA: SCHEMA.missing, metadata: {}, name: '', available_range: null };
    const url = mediaUrl(file.path, this.#options);
    const first = source.files.findIndex(({ path }) => mediaUrl(path, this.#options) === url);
    return {
      OTIO_SCHEMA: SCHEMA.external,
      metadata: first === index ? {} : { [OURS]: { file: index } },
      name: '',
      available_range: availableRange(file, source),
      target_url: url,
    };
  }
}

const comments = ({ comments: kept }: Pick<Extra, 'comments'>): { comments?: Json } | undefined => (kept === undefined ? undefined : { comments: kept });

const availableRange = (file: MediaFile, source: Source): Json =>
  file.start === undefined || file.frames === undefined
    ? null
    : range(new Double(file.start), new Double(file.frames), (file.count ?? source.count).rate);

/** Everything the model knows of a source, for `metadata.linecut.sources` of the timeline. */
export function sourceFacts(source: Source, options: OtioOptions): Json {
  return {
    id: source.id,
    name: source.name,
    reel: source.reel,
    aliases: source.aliases,
    picture: source.picture,
    recorded: source.recorded,
    rate: countName(source.count),
    starts: source.starts,
    offset: source.offset,
    sync: source.sync === undefined ? undefined : { ...source.sync },
    files: source.files.map((file) => ({
      url: mediaUrl(file.path, options),
      start: file.start,
      frames: file.frames,
      rate: file.count === undefined ? undefined : countName(file.count),
      channels: file.channels,
      size: file.size,
    })),
  };
}

function fill(layout: Layout, ...values: readonly string[]): string {
  let text = layout.pieces[0] ?? '';
  for (let index = 0; index < values.length; index += 1) text += (values[index] as string) + (layout.pieces[index + 1] as string);
  return text;
}
