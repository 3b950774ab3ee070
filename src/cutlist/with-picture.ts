/** How sound goes with the picture: as a whole, or with the beginning of a shot only. */
import type { AudioPiece, Shot, Transition } from './model.js';
import { sameMix } from './transitions.js';

/** What sound shares with the shot that it goes with. */
type Points = Pick<AudioPiece, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut' | 'take'> & {
  readonly file?: number | undefined;
  readonly transition?: Transition | undefined;
};

/** Whether a piece of sound has the points and the mix of a shot. */
export const isSoundOf = (piece: Points, shot: Shot | undefined): boolean =>
  shot !== undefined && shot.in === piece.in && shot.out === piece.out && shot.source === piece.source
  && shot.sourceIn === piece.sourceIn && shot.sourceOut === piece.sourceOut && shot.file === piece.file && shot.take === piece.take
  && sameTransition(shot.transition, piece.transition);

/** Whether a piece of sound comes on by the mix of a shot, is complete with it, and leaves the shot before its end. */
export const comesOnWith = (piece: Points, shot: Shot | undefined): boolean =>
  shot?.transition !== undefined && shot.in === piece.in && shot.out >= piece.out && shot.source === piece.source
  && shot.sourceIn === piece.sourceIn && shot.file === piece.file && shot.take === piece.take
  && shot.transition.frames <= piece.out - piece.in && sameTransition(shot.transition, piece.transition);

const sameTransition = (a: Transition | undefined, b: Transition | undefined): boolean =>
  a === b || (sameMix(a, b) && a?.inOffset === b?.inOffset);

/** The sound of a shot from its first frame to its last, on the tracks and channels given: what is cut with the picture. */
export function soundWith(shot: Shot, { tracks, channels }: Pick<AudioPiece, 'tracks' | 'channels'>): AudioPiece {
  const { source, in: into, out, sourceIn, sourceOut, take, transition, speed, file, continues } = shot;
  // Assigned one by one, as in a shot: a long list has very many.
  const piece: { -readonly [Key in keyof AudioPiece]: AudioPiece[Key] } = { source, in: into, out, sourceIn, sourceOut, tracks, channels, take, withPicture: true };
  if (transition !== undefined) piece.transition = transition;
  if (speed !== undefined) piece.speed = speed;
  if (file !== undefined) piece.file = file;
  if (continues === true) piece.continues = true;
  return piece;
}
