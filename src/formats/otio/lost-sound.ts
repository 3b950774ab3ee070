/** Sound inside compositions of a picture track, which is read from the Audio tracks alone. */
import { isEnabled, isSound, NESTED } from './layers.js';
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { mediaOf } from './media.js';

/** Deeper than this nothing is looked for. */
const DEEPEST = 100;

/**
 * Warns of sound in compositions on the picture tracks that no Audio track plays: an editor who puts a composition on a picture track
 * and an Audio track has its picture from one and its sound from the other.
 */
export function sayLostSound(document: Document, tracks: readonly At[]): void {
  const [inPicture, heard]: [At[], At[]] = [[], []];
  for (const track of tracks) collect(track, inPicture, heard);
  if (inPicture.length === 0) return;
  const known = new Set(heard.map(keyOf));
  const lost = inPicture.filter((clip) => !known.has(keyOf(clip)));
  const [first] = lost;
  if (first === undefined) return;
  const what = lost.length === 1 ? 'a clip of sound' : `${String(lost.length)} clips of sound`;
  document.add('left-out', first.where, `${what} (${lost.length === 1 ? '' : 'the first '}'${textAt(first, 'name')}') in a composition on a picture track ${lost.length === 1 ? 'is' : 'are'} left out, and no Audio track has the same; put the composition on an Audio track too`);
}

/** Collects the clips of Audio tracks: those below a picture track, and the others. */
function collect(at: At, inPicture: At[], heard: At[], below?: 'picture' | 'sound' | 'sound in picture', depth = 0): void {
  if (!isEnabled(at) || depth > DEEPEST) return;
  const schema = schemaOf(at);
  if (schema === 'Clip' && below === 'sound') heard.push(at);
  if (schema === 'Clip' && below === 'sound in picture') inPicture.push(at);
  if (!NESTED.has(schema)) return;
  const own = isSound(at) ? (below === 'picture' ? 'sound in picture' : below ?? 'sound') : schema === 'Stack' ? below : below ?? 'picture';
  for (const child of objectsAt(at, 'children')) collect(child, inPicture, heard, own, depth + 1);
}

/** What tells sound from other sound. */
const keyOf = (clip: At): string => JSON.stringify([textAt(clip, 'name'), clip.members['source_range'], mediaOf(clip)?.members['target_url']]);
