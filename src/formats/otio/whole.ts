/** Places between frames as whole frames. */

/** So far from a half, doubles that were added up may be one: no two times of 96 kHz and a rate of ST 12-1 are as near without being the same. */
const HALF = 2e-9;

/** The whole frame of a place between two: halves go up, as everywhere. */
export const toFrame = (frames: number): number => Math.floor(frames + 0.5 + HALF);
