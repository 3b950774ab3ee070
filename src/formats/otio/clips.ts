/** Clips, gaps and transitions as JSON text: what is the same for every clip of a recording is rendered once. */
import { BLACK, type CutList, type EventRef, type Source } from '../../cutlist/model.js';
import { isRealSpeed, playedFrames, saidSpeed } from '../../cutlist/speed.js';
import type { Cut, TrackStretch } from './cuts.js';
import { Double, doubleText, fill, MARK, Slot, type Json, type JsonWriter, type Layout } from './json.js';
import { mediaReference } from './references.js';
import { countsOf, DISSOLVE, EDL_KEY, MEDIA_KEY, OURS, SCHEMA, sourceTime, transitionCode, WIPE } from './schema.js';
import { range, time } from './time-json.js';
import { toFrame } from './whole.js';
import type { OtioOptions } from './write.js';

/** What a clip may carry beside its points. */
export interface Extra extends TrackStretch {
  readonly source: string;
  readonly clipName?: string;
  readonly comments?: readonly string[];
  readonly continues?: boolean;
  readonly instead?: string;
  readonly event?: EventRef;
}

/** A clip's numbers as text. */
interface ClipNumbers {
  readonly number: string;
  readonly duration: string;
  readonly start: string;
}

/** What stands before, between and behind the three numbers of a clip. */
type PlainClip = readonly [string, string, string, string];

/** The plain clips of a source in the file and take that were met last, by the action that brought them on. */
interface PlainClips {
  readonly file: number | undefined;
  readonly take: number;
  readonly byAction: Map<string, PlainClip>;
}

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
  readonly #plain = new Map<string, PlainClips>();
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

  #transitionText(transition: NonNullable<TrackStretch['transition']>, lead: number): string {
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
    const played = stretch.sourceOut - stretch.sourceIn;
    const source = this.#countOf(stretch.source).rate;
    const real = playedFrames(stretch.out - stretch.in, source, list);
    const speed = stretch.source === BLACK ? 1 : saidSpeed(stretch, source, list) ?? (isRealSpeed(played, real, source, list) ? 1 : played / real);
    const sourceFrames = played !== toFrame(real * speed) ? String(played) : undefined;
    const duration = doubleText(out - from);
    const start = doubleText(sourceTime(stretch.sourceIn, source, list) + lead * speed);
    const { event } = stretch;
    if (event !== undefined && speed === 1 && sourceFrames === undefined && ours === undefined && isPlain(stretch)) {
      const pieces = this.#plainClip(stretch, event);
      return `${pieces[0]}${String(event.number)}${pieces[1]}${duration}${pieces[2]}${start}${pieces[3]}`;
    }
    return this.#clip(stretch, { number: String(event?.number), duration, start }, speed, sourceFrames, ours);
  }

  /** The text of a plain clip around its event's number, its duration and its start: the same for most clips of a recording. */
  #plainClip(stretch: Extra, { action }: EventRef): PlainClip {
    let plain = this.#plain.get(stretch.source);
    if (plain === undefined || plain.file !== stretch.file || plain.take !== stretch.take) {
      this.#plain.set(stretch.source, plain = { file: stretch.file, take: stretch.take, byAction: new Map() });
    }
    let pieces = plain.byAction.get(action);
    if (pieces === undefined) {
      pieces = this.#clip(stretch, { number: MARK, duration: MARK, start: MARK }, 1, undefined, undefined).split(MARK) as unknown as PlainClip;
      plain.byAction.set(action, pieces);
    }
    return pieces;
  }

  /** A clip from the texts of its numbers; black is a gap. */
  #clip(stretch: Extra, { number, duration, start }: ClipNumbers, speed: number, sourceFrames: string | undefined, ours: readonly (string | undefined)[] | undefined): string {
    const black = stretch.source === BLACK;
    const at = this.#depth + 2;
    const parts = [
      'source', black ? undefined : this.#quote(stretch.source),
      'sourceFrames', sourceFrames,
      'take', stretch.take === 0 ? undefined : String(stretch.take),
      'continues', stretch.continues === undefined ? undefined : String(stretch.continues),
      'instead', stretch.instead === undefined ? undefined : JSON.stringify(stretch.instead),
      'event', stretch.event === undefined ? undefined : this.#eventText(stretch.event, number, at + 1),
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

  #eventText({ action, note }: EventRef, number: string, depth: number): string {
    return this.#json.members(depth, ['number', number, 'action', this.#quote(action), 'note', note === undefined ? undefined : JSON.stringify(note)]);
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
        media_references: { [MEDIA_KEY]: mediaReference(source, file, this.#options) },
        active_media_reference_key: MEDIA_KEY,
      },
      this.#depth,
    );
    const made = { ...layout, plain: this.#json.text(this.#edlOf(source, {}), this.#depth + 2) };
    this.#layouts.set(key, made);
    return made;
  }
}

/** Whether nothing tells a clip from the others of its recording but its numbers and its event's action. */
const isPlain = ({ clipName, comments: kept, continues, instead, event }: Extra): boolean =>
  clipName === undefined && kept === undefined && continues === undefined && instead === undefined && event?.note === undefined;

const comments = ({ comments: kept }: Pick<Extra, 'comments'>): { comments?: Json } | undefined => (kept === undefined ? undefined : { comments: kept });
