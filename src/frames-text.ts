/** `3 frames`, `1 frame`. */
export const framesText = (count: number): string => (count === 1 ? '1 frame' : `${String(count)} frames`);
