// Formatting timecode labels at 29.97df, against smpte-timecode.
import { formatting } from './timecode.mjs';

export const name = 'formatting labels, against smpte-timecode';
export const bound = '≥ 4';
export const run = () => formatting();
