// A thousand logs in one call on one core, against two: a thread a core, as a batch takes by itself.
import { cores } from './logs.mjs';

export const name = '1,000 logs in one call: one core against two';
export const bound = '≥ 1.6';
export const run = () => cores();
