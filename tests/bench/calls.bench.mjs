// A thousand logs in one call, against a call each.
import { calls } from './logs.mjs';

export const name = '1,000 calls of one log against one call of 1,000 logs (a call measured on 40)';
export const bound = '≥ 20';
export const run = () => calls();
