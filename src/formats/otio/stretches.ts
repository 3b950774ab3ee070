/** From the items of a track to stretches that begin where their mix begins: what `cuts.ts` does, undone. */
import { BLACK, type Transition } from '../../cutlist/model.js';
import { isRealSpeed, playedFrames } from '../../cutlist/speed.js';
import type { Count, Rate } from '../../timecode/rate.js';
import type { TrackStretch } from './cuts.js';
import { metadataAt, schemaOf, textAt, type Document } from './document.js';
import { speedOf } from './effects.js';
import type { Item, Mix } from './items.js';
import { withMarksBefore } from './marks.js';
import { DISSOLVE, EDL_KEY, OURS, WIPE } from './schema.js';
import type { ClipSource, SourceTable } from './sources.js';
import { inFrames } from './times.js';
import { toFrame } from './whole.js';

/** A stretch and the item it was. `source` is BLACK for gaps. */
export interface Read extends TrackStretch {
  readonly item: Item;
  readonly source: string;
  readonly clipName?: string;
  /** Record frame of the item's cut point: its source times count from there. */
  readonly cut: number;
  /** How many frames behind its cut-out point the mix to the next item still shows it. */
  readonly tail: number;
}

/** An item on whole frames: its cut points, and the frames of its mix on both sides of the first. */
interface Whole {
  readonly item: Item;
  readonly in: number;
  readonly out: number;
  readonly before: number;
  readonly after: number;
  /** Undefined for gaps. */
  readonly media: Media | undefined;
}

interface Media {
  readonly played: ClipSource;
  /** Source frame at the cut point, not rounded. */
  readonly atCut: number;
  /** Source frames that one frame of the list plays. */
  readonly perFrame: number;
  readonly speed: number;
}

/**
 * The stretches of a track whose first item begins on record frame `at`. What does not fit is made to fit, and reported:
 * points between frames (of the picture as `bad-otio`: they are the cuts, while sound is often cut at its samples), mixes longer than their clips or running into the next, mixes for which there is no source.
 */
export function stretchesOf(document: Document, items: readonly Item[], at: number, list: Count, sources: SourceTable, of: 'picture' | 'others'): Read[] {
  const whole = wholeItems(document, items, at, list, sources, of);
  return whole.map((item, index) => {
    const next = whole[index + 1];
    return stretch(document, item, next, list.rate);
  });
}

function wholeItems(document: Document, items: readonly Item[], start: number, list: Count, sources: SourceTable, of: 'picture' | 'others'): Whole[] {
  const whole: Whole[] = [];
  // Whole frames and the rest apart, so that no number of items adds up to an error.
  let frames = start;
  let rest = 0;
  let moved = 0;
  let odd: Item | undefined;
  let between = 0;
  for (const item of items) {
    const from = frames + toFrame(rest);
    // The two ends of a mix are points of the record side, like the cut between them.
    const before = item.mix === undefined ? 0 : from - frames - toFrame(rest - item.mix.before);
    const after = item.mix === undefined ? 0 : frames + toFrame(rest + item.mix.after) - from;
    moved = Math.max(moved, Math.abs(toFrame(rest) - rest));
    const sum = rest + item.length;
    frames += Math.floor(sum);
    rest = sum - Math.floor(sum);
    if (Math.abs(item.length - toFrame(item.length)) > 1e-6) odd ??= item;
    const to = frames + toFrame(rest);
    // An item without frames of its own still shows for the part of its mix that lies before it.
    if (to - from + before <= 0) {
      if (item.length > 0) document.add('found', item.at.where, 'a clip is shorter than half a frame; it is left out');
      else if (item.kind === 'clip') document.add('bad-otio', item.at.where, 'a clip has no frames; it is left out', 'warning');
      continue;
    }
    const media = mediaOf(document, item, list.rate, sources);
    // Where rates meet or the speed changes, points between frames are to be expected.
    if (media?.perFrame === 1 && item.start?.rate === media.played.count.rate) between = Math.max(between, Math.abs(media.atCut - toFrame(media.atCut)));
    const previous = whole.at(-1);
    const isLead = whole.length === 1 && previous?.item.kind === 'gap' && previous.in === from - before;
    const mix = mixFrames(document, item.mix, { before, after }, media, previous, isLead, from, to);
    if (to - from + mix.before <= 0) continue;
    // Black at the very start that a mix covers whole is what the writer puts there for a mix from nothing.
    const covered = isLead && mix.before > 0 && from - mix.before === previous.in ? whole.pop() : undefined;
    whole.push({ item: covered === undefined ? item : withMarksBefore(document, item, covered.item, list.rate), in: from, out: to, before: mix.before, after: mix.after, media });
  }
  // The end of the last item is a place of the list too.
  moved = Math.max(moved, Math.abs(rest - toFrame(rest)));
  if (moved > 1e-6) sayMoved(document, moved, of === 'picture' ? odd : undefined);
  if (between > 1e-6) document.note(`clips begin between two frames of their recordings; the furthest was moved by ${between.toFixed(3)} frames`);
  return whole;
}

/** One length that is no whole number of frames moves every cut behind it: `odd` is the first that has one. */
function sayMoved(document: Document, moved: number, odd: Item | undefined): void {
  const message = `clips do not lie on whole frames; the furthest was moved by ${moved.toFixed(3)} frames`;
  if (odd === undefined) document.note(message);
  else document.add('bad-otio', odd.at.where, `${message}, and this is the first, with a length of ${odd.length.toFixed(3)}`, 'warning');
}

function mediaOf(document: Document, item: Item, list: Rate, sources: SourceTable): Media | undefined {
  if (item.kind === 'gap') return undefined;
  const played = sources.played(item.at, item.start);
  const speed = speedOf(document, item.at);
  const perFrame = playedFrames(1, played.count.rate, list) * speed;
  const start = item.start === undefined ? 0 : inFrames(item.start, played.count.rate);
  return { played, speed, perFrame, atCut: start + item.skip * perFrame };
}

const NO_MIX = { before: 0, after: 0 };

/** The frames of an item's mix that there is room and source for, on both sides of its cut point. */
function mixFrames(
  document: Document,
  mix: Mix | undefined,
  { before, after }: Pick<Whole, 'before' | 'after'>,
  media: Media | undefined,
  previous: Whole | undefined,
  isLead: boolean,
  from: number,
  to: number,
): { before: number; after: number } {
  if (mix === undefined) return NO_MIX;
  // The shot before keeps a frame, and its own mix: both end before this one begins.
  const earliest = previous === undefined ? from : isLead ? previous.in : Math.max(previous.in + previous.after, previous.in - previous.before + 1);
  const room = { before: Math.min(before, from - earliest), after: Math.min(after, to - from) };
  if (room.before !== before || room.after !== after) {
    const given = `a transition of ${String(before + after)} frames has room for ${String(room.before + room.after)}`;
    document.add('transition-cut-short', mix.at.where, `${given}: it is longer than a clip beside it, or runs into the transition before it`);
  }
  const handle = media === undefined || media.perFrame === 0 ? room.before : Math.floor((media.atCut + 0.5) / media.perFrame);
  if (handle >= room.before) return room;
  document.add('short-handle', mix.at.where, `a transition needs ${String(room.before)} frames before the clip's first, and its source has ${String(handle)}`);
  return { before: Math.max(0, handle), after: room.after };
}

/** A stretch while it is put together: spreading a million objects would take longer than reading them. */
type Growing = { -readonly [Key in keyof Read]: Read[Key] };

function stretch(document: Document, { item, in: cut, out: end, before, after, media }: Whole, next: Whole | undefined, list: Rate): Read {
  const from = cut - before;
  const out = next === undefined ? end : next.in - next.before;
  const made: Growing = { item, cut, tail: next?.after ?? 0, source: BLACK, in: from, out, sourceIn: 0, sourceOut: out - from, take: 0 };
  const transition = transitionOf(document, item, before + after, before, out - from);
  if (transition !== undefined) made.transition = transition;
  if (media === undefined) {
    const name = schemaOf(item.at) === 'Gap' ? textAt(item.at, 'name') : '';
    if (name !== '') made.clipName = name;
    return made;
  }
  const { source, count, file, clipName } = media.played;
  const played = playedFrames(out - from, count.rate, list) * media.speed;
  // Source frames seldom fit real time, or a speed, exactly: what was noted when the list was written is right, where it is as near.
  const noted = metadataAt(item.at, OURS)?.['sourceFrames'];
  const isNear = (whole: number): boolean => (media.speed === 1 ? isRealSpeed(whole, played, count.rate, list) : Math.abs(whole - played) <= 0.5 + 1e-6);
  const frames = typeof noted === 'number' && Number.isInteger(noted) && isNear(noted) ? noted : toFrame(played);
  made.source = source;
  made.sourceIn = toFrame(media.atCut - before * media.perFrame);
  made.sourceOut = made.sourceIn + frames;
  if (media.speed !== 1 && Math.abs(frames - played) > 1e-6) made.speed = media.speed;
  if (file !== undefined) made.file = file;
  if (clipName !== undefined) made.clipName = clipName;
  return made;
}

/** The transition that brings a stretch of `length` frames on, `lead` of its `frames` before the cut point. */
function transitionOf(document: Document, { mix }: Item, frames: number, lead: number, length: number): Transition | undefined {
  if (mix === undefined) return undefined;
  if (frames === 0) {
    document.add('found', mix.at.where, 'a transition of no frames is read as a cut');
    return undefined;
  }
  const type = textAt(mix.at, 'transition_type');
  const code = metadataAt(mix.at, EDL_KEY)?.['transition'];
  const wipe = typeof code === 'string' ? /^W(\d{1,3})$/.exec(code)?.[1] : undefined;
  // Where the writer had to leave the clip a frame, it noted where the boundary was meant to be.
  const noted = metadataAt(mix.at, OURS)?.['inOffset'];
  const meant = typeof noted === 'number' && Number.isInteger(noted) && noted <= frames && Math.min(noted, length - 1) === lead;
  const inOffset = meant ? noted : lead;
  if (type === WIPE || wipe !== undefined) return { kind: 'wipe', frames, ...(wipe === undefined ? {} : { wipe: Number(wipe) }), inOffset };
  if (type !== DISSOLVE) document.add('bad-otio', mix.at.where, `a transition of type '${type}' is read as a dissolve`, 'warning');
  return { kind: 'dissolve', frames, inOffset };
}
