/** How long what lies in a track or stack lasts, without reading it: layers that are not read count too. */
import type { Rate } from '../../timecode/rate.js';
import { objectsAt, schemaOf, type At, type Document } from './document.js';
import { NESTED } from './layers.js';
import { mediaOf } from './media.js';
import { inFrames, rangeAt, timeAt } from './times.js';

/** Deeper than this nothing is read. */
const DEEPEST = 100;

/**
 * A composition's length before its own `source_range`, in frames of `rate`, not rounded, as the reference library has it: of a stack
 * that of its longest child, disabled or not, of a track the sum, with what the transitions at its two ends have outside of it.
 */
export function fullLength(document: Document, at: At, rate: Rate, depth = 0): number {
  if (depth > DEEPEST) return 0;
  const children = [...objectsAt(at, 'children')];
  if (schemaOf(at) === 'Stack') return children.reduce((most, child) => Math.max(most, lengthAt(document, child, rate, depth)), 0);
  const inner = children.reduce((sum, child) => sum + lengthAt(document, child, rate, depth), 0);
  return inner + offsetAt(document, children[0], 'in_offset', rate) + offsetAt(document, children.at(-1), 'out_offset', rate);
}

function lengthAt(document: Document, at: At, rate: Rate, depth: number): number {
  const schema = schemaOf(at);
  if (schema === 'Transition') return 0;
  const range = rangeAt(document, at, 'source_range');
  if (range !== undefined) return inFrames(range.duration, rate);
  if (NESTED.has(schema)) return fullLength(document, at, rate, depth + 1);
  const media = schema === 'Clip' ? mediaOf(at) : undefined;
  const available = media === undefined ? undefined : rangeAt(document, media, 'available_range');
  return available === undefined ? 0 : inFrames(available.duration, rate);
}

function offsetAt(document: Document, child: At | undefined, key: 'in_offset' | 'out_offset', rate: Rate): number {
  const offset = child === undefined || schemaOf(child) !== 'Transition' ? undefined : timeAt(document, child, key);
  return offset === undefined ? 0 : Math.max(0, inFrames(offset, rate));
}
