/** The items of a track in a row, nested compositions laid flat. */
import { type Rate } from '../../timecode/rate.js';
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { checkEffects } from './effects.js';
import { hasContent, NESTED, sayUnread } from './layers.js';
import { marked, marksOf, withMarks, type Mark } from './marks.js';
import { isBlack, mediaOf } from './media.js';
import { AUDIO } from './schema.js';
import { inFrames, rangeAt, timeAt, type Time } from './times.js';

export interface Item {
  /** A clip that shows something, or nothing (black, silence). */
  readonly kind: 'clip' | 'gap';
  /** A gap that somebody put there as a clip of black. */
  readonly black?: boolean;
  readonly at: At;
  /** Source in-point as written; of gaps only that of a disabled clip, from which its markers count. */
  readonly start: Time | undefined;
  /** Frames of the list by which a nested composition's own range cuts off the item's head. */
  readonly skip: number;
  /** Length in frames of the list, not rounded. */
  readonly length: number;
  /** The mix that brings it on. */
  readonly mix?: Mix;
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
 * that are no part of a cut list, become gaps of their length, reported. A composition's `source_range` cuts its items.
 */
export function itemsOf(document: Document, track: At, rate: Rate, depth = 0): Item[] {
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
      else mix = mixOf(document, child, rate);
    } else if (schema === 'Clip') add(clipItem(document, child, rate));
    else if (NESTED.has(schema)) {
      const inner = child.members['enabled'] === false ? disabledItems(document, child, rate, depth + 1) : compositionItems(document, child, rate, depth + 1);
      const [first, ...rest] = inner;
      if (first === undefined) continue;
      add(first);
      for (const item of rest) items.push(item);
    } else {
      if (!GAPS.has(schema)) document.add('bad-otio', child.where, `${schema === '' ? 'an object without OTIO_SCHEMA' : `a ${schema}`} in a track is read as nothing`, 'warning');
      const range = rangeAt(document, child, 'source_range');
      if (range === undefined && GAPS.has(schema)) document.add('bad-otio', child.where, 'a gap has no source_range');
      if (range !== undefined) add({ kind: 'gap', at: child, start: undefined, skip: 0, length: inFrames(range.duration, rate) });
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
  return isBlack(reference) ? { kind: 'gap', black: true, at: clip, start: undefined, skip: 0, length } : { kind: 'clip', at: clip, start: range.start, skip: 0, length };
}

/** A composition inside another, with its effects and markers. */
function compositionItems(document: Document, at: At, rate: Rate, depth: number): Item[] {
  checkEffects(document, at);
  return marked(document, at, nestedItems(document, at, rate, depth), rate);
}

/** A composition that is disabled: nothing for as long as it lasts, but for its markers. */
function disabledItems(document: Document, at: At, rate: Rate, depth: number): Item[] {
  const items = marked(document, at, nestedItems(document, at, rate, depth), rate);
  const length = items.reduce((sum, item) => sum + item.length, 0);
  if (items.length === 0) return [];
  document.add('found', at.where, `the ${schemaOf(at)} '${textAt(at, 'name')}' is disabled; it is read as black`);
  return [{ kind: 'gap', at: { members: {}, where: at.where }, start: undefined, skip: 0, length, marks: marksOf(document, items, rate) }];
}

/** A composition inside a track: its own items, or, of a stack, those of its first layer that has a picture. */
export function nestedItems(document: Document, at: At, rate: Rate, depth: number): Item[] {
  if (depth > DEEPEST) {
    document.add('bad-otio', at.where, `compositions are nested more than ${String(DEEPEST)} deep`);
    return [];
  }
  if (schemaOf(at) !== 'Stack') return trimmed(document, at, itemsOf(document, at, rate, depth), rate);
  const layers = [...objectsAt(at, 'children')].filter((layer) => layer.members['enabled'] !== false && layer.members['kind'] !== AUDIO && hasContent(layer));
  const [layer] = layers;
  sayUnread(document, layers, `the stack has ${String(layers.length)} layers; only the first is read`);
  if (layer === undefined) return trimmed(document, at, [], rate);
  const items = NESTED.has(schemaOf(layer)) ? compositionItems(document, layer, rate, depth + 1) : itemsOf(document, { members: { children: [layer.members] }, where: at.where }, rate, depth);
  return trimmed(document, at, items, rate);
}

/** The items inside a composition's `source_range`, filled up with a gap to its length. */
export function trimmed(document: Document, at: At, items: Item[], rate: Rate): Item[] {
  const range = rangeAt(document, at, 'source_range');
  if (range === undefined) return items;
  const from = inFrames(range.start, rate);
  const to = from + inFrames(range.duration, rate);
  const kept: Item[] = [];
  let position = 0;
  let first: number | undefined;
  let carriesMarks = false;
  for (const item of items) {
    const end = position + item.length;
    const start = Math.max(position, from);
    const stop = Math.min(end, to);
    if (stop > start || (item.length === 0 && position >= from && position < to)) {
      first ??= start;
      const { mix, marks, ...plain } = { ...item, skip: item.skip + start - position, length: stop - start };
      carriesMarks ||= marks !== undefined;
      if (mix !== undefined && position >= from) kept.push({ ...plain, mix });
      else {
        if (mix !== undefined) document.add('transition-cut-short', mix.at.where, 'the range of a composition begins inside a transition; it is left out');
        kept.push(plain);
      }
    } else carriesMarks ||= item.marks !== undefined;
    position = end;
  }
  const rest = to - Math.max(position, from);
  if (rest > 0) kept.push({ kind: 'gap', at: { members: {}, where: at.where }, start: undefined, skip: 0, length: rest });
  return carriesMarks ? withMarks(kept, items, first ?? from, to) : kept;
}
