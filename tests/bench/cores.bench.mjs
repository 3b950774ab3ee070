// A thousand logs in one call on one thread, against as many threads as there are cores.
import { cores } from './logs.mjs';

export const name = '1,000 logs in one call: one thread against two';
export const bound = '≥ 1.6';
export const run = () => cores();
