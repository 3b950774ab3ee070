/** The rules file: which findings count, and how much. `{ "short-shot": "off", "event-number": "error" }` */
import { readJson } from '../json.js';
import { didYouMean } from '../nearest.js';
import { CATALOGUE, problem, type Code, type Report, type Severity } from '../problems.js';
import type { Rules } from './finding.js';

const WORDS: readonly (Severity | 'off')[] = ['off', 'note', 'warning', 'error'];

/** Reads a rules file: codes of the catalogue with `off` or a severity. Undefined, and reported (`bad-rules`), when anything in it is wrong. */
export function readRules(text: string, file: string, report: Report): Rules | undefined {
  const json = readJson(text, file, 'bad-rules', report);
  if (json === undefined) return undefined;
  let sound = true;
  const bad = (message: string, path: readonly string[]): void => {
    sound = false;
    report(problem('bad-rules', message, json.placeOf(path)));
  };
  if (typeof json.value !== 'object' || json.value === null || Array.isArray(json.value)) {
    bad('expected an object of codes: { "short-shot": "off" }', []);
    return undefined;
  }
  const rules = new Map<Code, Severity | 'off'>();
  for (const [code, word] of Object.entries(json.value)) {
    const known = WORDS.find((one) => one === word);
    if (!isCode(code)) bad(`there is no code '${code}'${didYouMean(code, Object.keys(CATALOGUE)) || '; the README lists them all'}`, [code]);
    else if (known === undefined) bad(`${code} is ${JSON.stringify(word)}; expected one of ${WORDS.join(', ')}`, [code]);
    else rules.set(code, known);
  }
  return sound ? rules : undefined;
}

const isCode = (word: string): word is Code => Object.hasOwn(CATALOGUE, word);
