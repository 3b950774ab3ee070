/** Layers of a stack, of which one is the picture: what the others hold is lost, and has to be said. */
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { AUDIO } from './schema.js';

/** Schemas of what may lie in a track or stack and has items of its own. */
export const NESTED: ReadonlySet<string> = new Set(['Stack', 'Track', 'Sequence', 'Composition']);

/** False for a composition without items. */
export const hasContent = (layer: At): boolean => !NESTED.has(schemaOf(layer)) || objectsAt(layer, 'children').next().done !== true;

export const nameOf = (layer: At): string => (textAt(layer, 'name') === '' ? '' : ` ('${textAt(layer, 'name')}')`);

/** So many layers are named in a message. */
const NAMED = 4;

/** Says that only the first of `layers` is read: a note where the others show nothing, else a warning of what is lost. */
export function sayUnread(document: Document, layers: readonly At[], message: string): void {
  const [first] = layers;
  if (first === undefined || layers.length === 1) return;
  const lost = layers.flatMap((layer, index) => {
    const clips = index === 0 ? 0 : clipsIn(layer);
    return clips === 0 ? [] : [{ layer, text: `layer ${String(index + 1)}${nameOf(layer)} with ${clips === 1 ? '1 clip' : `${String(clips)} clips`}` }];
  });
  const [at] = lost;
  if (at === undefined) {
    document.add('found', first.where, message);
    return;
  }
  const more = lost.length > NAMED ? ` and ${String(lost.length - NAMED)} more` : '';
  document.add('left-out', at.layer.where, `${message}, and what lies above it is left out: ${lost.slice(0, NAMED).map(({ text }) => text).join(', ')}${more}; put what is to be seen on one track`);
}

/** Clips of a layer that show something. */
function clipsIn(at: At, depth = 0): number {
  if (at.members['enabled'] === false || depth > 100) return 0;
  if (!NESTED.has(schemaOf(at))) return schemaOf(at) === 'Clip' ? 1 : 0;
  let clips = 0;
  if (at.members['kind'] !== AUDIO) for (const child of objectsAt(at, 'children')) clips += clipsIn(child, depth + 1);
  return clips;
}
