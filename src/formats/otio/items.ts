/** The items of a track in a row, nested compositions laid flat. */
import { framesText } from '../../frames-text.js';
import type { Rate } from '../../timecode/rate.js';
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { checkEffects } from './effects.js';
import { isEnabled, isSound, layersIn, NESTED, sayUnread, type Sort } from './layers.js';
import { fullLength } from './lengths.js';
import { marked, marksOf, type Mark } from './marks.js';
import { isBlack, mediaOf } from './media.js';
import { inFrames, rangeAt, timeAt, type Time } from './times.js';
import { filled, nothing, trimmed } from './trim.js';

export interface Item {
  /** A clip that shows something, or nothing (black, silence). */
  readonly kind: 'clip' | 'gap';
  /** A gap that somebody put there as a clip of black. */
  readonly black?: boolean;
  readonly at: At;
  /** Source in-point as written; of gaps, from which their markers count, undefined where nothing was written. */
  readonly start: Time | undefined;
  /** Frames of the list by which a nested composition's own range cuts off the item's head. */
  readonly skip: number;
  /** Length in frames of the list, not rounded. */
  readonly length: number;
  /** The mix that brings it on. */
  readonly mix?: Mix;
  /**
   * The first and last of a composition whose range cuts others off: frames that the composition shows of the item before its first, behind
   * its last. Undefined where nothing else lies there: as many as the recording has.
   */
  readonly headroom?: number;
  readonly tailroom?: number;
  /** Markers of the compositions that begin with it. */
  readonly marks?: readonly Mark[];
}

/** A transition: its frames before and after the cut point, not rounded. */
export interface Mix {
  readonly at: At;
  readonly before: number;
  readonly after: number;
}

const GAPS = new Set(['Gap', 'Filler']);
const DEEPEST = 16;

/**
 * The items of a track (or a nested one), from its first to its last, in frames of `rate`. Disabled clips and compositions, and things
 * that are no part of a cut list, become gaps of their length, reported. A composition's `source_range` cuts its items; of a stack
 * in it the first layer of the `sort` is read, and it lasts as long as its longest.
 */
export function itemsOf(document: Document, track: At, rate: Rate, sort: Sort, depth = 0): Item[] {
  const items: Item[] = [];
  let mix: Mix | undefined;
  const add = (item: Item): void => {
    items.push(mix === undefined ? item : { ...item, mix });
    mix = undefined;
  };
  for (const child of objectsAt(track, 'children')) {
    const schema = document.schema(child);
    if (schema === 'Transition') {
      if (mix !== undefined) document.add('bad-otio', child.where, 'a transition follows a transition; it is left out', 'warning');
      else mix = mixAfter(document, items.at(-1), mixOf(document, child, rate));
    } else if (schema === 'Clip') add(clipItem(document, child, rate));
    else if (NESTED.has(schema)) {
      const [first, ...rest] = isEnabled(child) ? compositionItems(document, child, rate, sort, depth + 1) : disabledItems(document, child, rate, sort, depth + 1);
      if (first === undefined) continue;
      mix &&= mixBefore(document, first, mix);
      add(mayFadeIn(document, first, mix, items.at(-1)));
      for (const item of rest) items.push(item);
    } else {
      if (!GAPS.has(schema)) document.add('bad-otio', child.where, `${schema === '' ? 'an object without OTIO_SCHEMA' : `a ${schema}`} in a track is read as nothing`, 'warning');
      const range = rangeAt(document, child, 'source_range');
      if (range === undefined && GAPS.has(schema)) document.add('bad-otio', child.where, 'a gap has no source_range');
      if (range !== undefined) add({ kind: 'gap', at: child, start: range.start, skip: 0, length: inFrames(range.duration, rate) });
    }
  }
  // A mix after the last item goes to nothing.
  if (mix !== undefined) items.push({ kind: 'gap', at: mix.at, start: undefined, skip: 0, length: mix.after, mix });
  return items;
}

function mixOf(document: Document, at: At, rate: Rate): Mix {
  const before = timeAt(document, at, 'in_offset');
  const after = timeAt(document, at, 'out_offset');
  if ((before?.value ?? 0) < 0 || (after?.value ?? 0) < 0) document.add('bad-otio', at.where, 'a transition has an offset below zero');
  return { at, before: before === undefined ? 0 : Math.max(0, inFrames(before, rate)), after: after === undefined ? 0 : Math.max(0, inFrames(after, rate)) };
}

/** A mix from an item: what lies behind it in its composition is not played in its place. */
function mixAfter(document: Document, item: Item | undefined, mix: Mix): Mix {
  const room = item?.tailroom;
  if (room === undefined || room >= mix.after) return mix;
  sayOther(document, mix, mix.after - room, 'behind the last');
  return { ...mix, after: room };
}

/** The same of a mix to an item. */
function mixBefore(document: Document, { headroom: room }: Item, mix: Mix): Mix {
  if (room === undefined || room >= mix.before) return mix;
  sayOther(document, mix, mix.before - room, 'before the first');
  return { ...mix, before: room };
}

function sayOther(document: Document, mix: Mix, frames: number, side: string): void {
  document.add('transition-cut-short', mix.at.where, `a transition shows ${framesText(Math.round(frames))} ${side} of a composition's range, and there another clip lies; it is shortened by these`);
}

/** The first item of a composition. Its own mix comes from nothing, which a list can only say where nothing lies before it. */
function mayFadeIn(document: Document, first: Item, outer: Mix | undefined, before: Item | undefined): Item {
  const { mix, ...plain } = first;
  if (mix === undefined || (outer === undefined && before?.kind !== 'clip')) return first;
  document.add('transition-cut-short', mix.at.where, `a composition begins with a transition from nothing, and ${outer === undefined ? 'a clip' : 'another transition'} lies before it; it is left out`);
  return plain;
}

function clipItem(document: Document, clip: At, rate: Rate): Item {
  const reference = mediaOf(clip);
  const range = rangeAt(document, clip, 'source_range') ?? (reference === undefined ? undefined : rangeAt(document, reference, 'available_range'));
  if (range === undefined) {
    document.add('bad-otio', clip.where, 'a clip has neither source_range nor the available_range of its media');
    return { kind: 'gap', at: clip, start: undefined, skip: 0, length: 0 };
  }
  const length = inFrames(range.duration, rate);
  if (clip.members['enabled'] === false) {
    document.add('found', clip.where, `the clip '${textAt(clip, 'name')}' is disabled; it is read as black`);
    return { kind: 'gap', at: clip, start: range.start, skip: 0, length };
  }
  return isBlack(reference) ? { kind: 'gap', black: true, at: clip, start: range.start, skip: 0, length } : { kind: 'clip', at: clip, start: range.start, skip: 0, length };
}

/** A composition inside another, with its effects and markers. */
export function compositionItems(document: Document, at: At, rate: Rate, sort: Sort, depth: number): Item[] {
  checkEffects(document, at);
  return marked(document, at, nestedItems(document, at, rate, sort, depth), rate);
}

/** A composition that is disabled: nothing for as long as it lasts, but for its markers. */
function disabledItems(document: Document, at: At, rate: Rate, sort: Sort, depth: number): Item[] {
  const items = marked(document, at, nestedItems(document, at, rate, sort, depth), rate);
  const length = items.reduce((sum, item) => sum + item.length, 0);
  if (items.length === 0) return [];
  document.add('found', at.where, `the ${schemaOf(at)} '${textAt(at, 'name')}' is disabled; it is read as black`);
  return [{ ...nothing(at, length), marks: marksOf(document, items, rate) }];
}

/** A composition inside a track: its own items, or, of a stack, those of its first layer of the sort. */
export function nestedItems(document: Document, at: At, rate: Rate, sort: Sort, depth: number): Item[] {
  if (depth > DEEPEST) {
    document.add('bad-otio', at.where, `compositions are nested more than ${String(DEEPEST)} deep`);
    return [];
  }
  const items = schemaOf(at) === 'Stack' ? layerItems(document, at, rate, sort, depth) : itemsOf(document, at, rate, sort, depth);
  return trimmed(document, at, filled(at, items, fullLength(document.quiet, at, rate)), rate);
}

function layerItems(document: Document, stack: At, rate: Rate, sort: Sort, depth: number): Item[] {
  const sound = sort === 'sound' ? layersIn(stack, 'sound') : [];
  // On an Audio track, a stack without Audio tracks stands for the sound of its clips. One whose sound was switched off does not.
  const isMute = sort === 'sound' && sound.length === 0 && [...objectsAt(stack, 'children')].some(isSound);
  if (isMute) document.add('found', stack.where, 'the Audio tracks of a stack are disabled or empty; it is silent');
  const layers = isMute || sound.length > 0 ? sound : layersIn(stack, 'picture');
  const [layer] = layers;
  if (layer === undefined) return [];
  sayUnread(document, layers, sort, `the stack has ${String(layers.length)} layers${sound.length > 0 ? ' of sound' : ''}; only the first is read`);
  return NESTED.has(schemaOf(layer)) ? compositionItems(document, layer, rate, sort, depth + 1) : itemsOf(document, { members: { children: [layer.members] }, where: stack.where }, rate, sort, depth);
}
