// Parsing timecode labels at 29.97df, against smpte-timecode.
import { parsing } from './timecode.mjs';

export const name = 'parsing labels, against smpte-timecode';
export const bound = '≥ 15';
export const run = () => parsing();
