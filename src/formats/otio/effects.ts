/** Effects: only a change of speed is part of a cut list, and only that of a clip. */
import { objectsAt, schemaOf, textAt, type At, type Document } from './document.js';

/** How fast a clip plays its source: 1 at real speed, 0 for a freeze frame. Whatever else its effects do is left out, reported. */
export function speedOf(document: Document, clip: At): number {
  let speed = 1;
  for (const effect of objectsAt(clip, 'effects')) {
    if (effect.members['enabled'] === false) continue;
    const schema = schemaOf(effect);
    if (schema === 'FreezeFrame') speed = 0;
    else if (schema === 'LinearTimeWarp') {
      const scalar = effect.members['time_scalar'];
      if (typeof scalar === 'number' && Math.abs(scalar) <= 1e6) speed *= scalar;
      else document.add('bad-otio', effect.where, 'a LinearTimeWarp needs a number as time_scalar');
    } else leaveOut(document, effect, schema);
  }
  if (speed >= 0) return speed;
  document.add('bad-otio', clip.where, 'a clip plays backwards; it is read as playing forwards from its first frame', 'warning');
  return -speed;
}

/** Reports the effects of a track or stack, which hold for everything in it: a change of speed there is an error, whatever else is left out. */
export function checkEffects(document: Document, composition: At): void {
  for (const effect of objectsAt(composition, 'effects')) {
    if (effect.members['enabled'] === false) continue;
    const schema = schemaOf(effect);
    const scalar = effect.members['time_scalar'];
    if (schema === 'LinearTimeWarp' && scalar === 1) continue;
    if (schema !== 'LinearTimeWarp' && schema !== 'FreezeFrame') leaveOut(document, effect, schema);
    else {
      const what = schema === 'FreezeFrame' ? 'a freeze frame' : `a change of speed${typeof scalar === 'number' ? ` (time_scalar ${String(scalar)})` : ''}`;
      document.add('bad-otio', effect.where, `${what} on a whole ${schemaOf(composition)}; speed is read on clips alone: set it on the clips inside, or put one rendered clip in its place`);
    }
  }
}

function leaveOut(document: Document, effect: At, schema: string): void {
  const name = textAt(effect, 'effect_name') || textAt(effect, 'name');
  document.add('bad-otio', effect.where, `the effect ${name === '' ? schema : `'${name}' (${schema})`} is no part of a cut list; it is left out`, 'warning');
}
