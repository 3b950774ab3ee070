/** The order of pieces of sound: that of `in`, then of track, as the model wants it. */
import type { AudioPiece } from './model.js';

/** Below zero where `a` comes first. */
export const soundOrder = (a: AudioPiece, b: AudioPiece): number => a.in - b.in || (a.tracks[0] ?? 0) - (b.tracks[0] ?? 0);

/** A copy in order. */
export const sortedSound = (pieces: readonly AudioPiece[]): AudioPiece[] => [...pieces].sort(soundOrder);
