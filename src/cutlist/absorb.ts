/** Who takes the frames of a shot that is too short. */
export type Absorb = (typeof ABSORB)[number];

export const ABSORB = ['previous', 'next', 'longer'] as const;
