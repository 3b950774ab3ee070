/** A shot that is the one before it, going on. */
import type { Shot } from './model.js';

/**
 * True where nothing seen changes from one shot to the next: the same source goes on, in another file, and nobody switched. Not so between a shot
 * and frames of a replacement in it, which belong to one switch (`wholeShots`), and are seen as two.
 */
export const goesOn = (before: Shot | undefined, shot: Shot): boolean => shot.continues === true && shot.source === before?.source;
