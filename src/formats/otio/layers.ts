/** Layers of a stack, of which one is read: what the others hold is lost, and has to be said. */
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { AUDIO } from './schema.js';

/** Schemas of what may lie in a track or stack and has items of its own. */
export const NESTED: ReadonlySet<string> = new Set(['Stack', 'Track', 'Sequence', 'Composition']);

/** What a composition is read for. */
export type Sort = 'picture' | 'sound';

/** Deeper than this nothing is looked for. */
const DEEPEST = 100;

/** False for a composition without items. */
export const hasContent = (layer: At): boolean => !NESTED.has(schemaOf(layer)) || objectsAt(layer, 'children').next().done !== true;

export const isEnabled = (at: At): boolean => at.members['enabled'] !== false;

export const isSound = (at: At): boolean => at.members['kind'] === AUDIO;

/** Whether a layer is of a sort, a stack whether it has a layer of it: Audio tracks are sound, all else is picture. */
export function isOf(sort: Sort, layer: At, depth = 0): boolean {
  if (schemaOf(layer) !== 'Stack') return isSound(layer) === (sort === 'sound');
  return depth < DEEPEST && [...objectsAt(layer, 'children')].some((child) => isEnabled(child) && isOf(sort, child, depth + 1));
}

/** A stack's layers of a sort that hold something and are not disabled. */
export const layersIn = (stack: At, sort: Sort): At[] => [...objectsAt(stack, 'children')].filter((layer) => isEnabled(layer) && hasContent(layer) && isOf(sort, layer));

export const nameOf = (layer: At): string => (textAt(layer, 'name') === '' ? '' : ` ('${textAt(layer, 'name')}')`);

/** So many layers are named in a message. */
const NAMED = 4;

const ADVICE = { picture: 'put what is to be seen on one track', sound: 'put what is to be heard on Audio tracks of the timeline' };

/** Says that only the first of `layers` is read: a note where the others have nothing, or the same sound, else a warning of what is lost. */
export function sayUnread(document: Document, layers: readonly At[], sort: Sort, message: string): void {
  const [first] = layers;
  if (first === undefined || layers.length === 1) return;
  const lost = layers.flatMap((layer, index) => {
    const clips = index === 0 || (sort === 'sound' && isSame(layer, first)) ? 0 : clipsIn(layer, sort);
    return clips === 0 ? [] : [{ layer, text: `layer ${String(index + 1)}${nameOf(layer)} with ${clips === 1 ? '1 clip' : `${String(clips)} clips`}` }];
  });
  const [at] = lost;
  if (at === undefined) {
    document.add('found', first.where, message);
    return;
  }
  const more = lost.length > NAMED ? ` and ${String(lost.length - NAMED)} more` : '';
  document.add('left-out', at.layer.where, `${message}, and what lies above it is left out: ${lost.slice(0, NAMED).map(({ text }) => text).join(', ')}${more}; ${ADVICE[sort]}`);
}

/** Both channels of a pair lie on tracks that are alike. */
const isSame = (layer: At, other: At): boolean => JSON.stringify(layer.members['children']) === JSON.stringify(other.members['children']);

/** Clips of a layer that show something, or sound. */
function clipsIn(at: At, sort: Sort, depth = 0): number {
  if (!isEnabled(at) || depth > DEEPEST) return 0;
  if (!NESTED.has(schemaOf(at))) return schemaOf(at) === 'Clip' ? 1 : 0;
  let clips = 0;
  for (const child of schemaOf(at) === 'Stack' || sort === 'picture' ? layersIn(at, sort) : objectsAt(at, 'children')) clips += clipsIn(child, sort, depth + 1);
  return clips;
}
