/** The parts of an EDL that was divided: `show-1.edl` stands for `show-2.edl` and so on beside it, too. */
import { resolve } from 'node:path';
import type { EdlPart } from '../formats/edl/document.js';
import { labelledParts, recordSide, titleIn } from '../formats/edl/record-side.js';
import { partEnding, partIn } from '../formats/endings.js';
import { formOf } from '../formats/form.js';
import { MAX_BYTES } from '../log/limits.js';
import { problem, type Report } from '../problems.js';
import { textOf } from './by-hand.js';
import { bytesOf } from './input.js';
import { isLogName, type LogInput } from './inputs.js';
import { STANDARD } from './names.js';
import { exists } from './output.js';

/** The other parts of an EDL. */
export interface OtherParts {
  readonly parts: readonly FoundPart[];
  /** The next file that is called like a part, and why it is none. */
  readonly left?: { readonly file: string; readonly why: string };
}

/** A part as messages name it; without text where it cannot be had, or is no EDL. */
type FoundPart = Pick<EdlPart, 'file'> & Partial<EdlPart>;

/**
 * The other parts of an EDL called `NAME-1.edl`: files up to the first that is missing or has another title, as many as are one list with it (`OneList`).
 * Also one that says too little to tell: who reads it says what is wrong with it. None of any other file. What folders take for a log is none (`show-1.csv`).
 */
export function otherParts(name: string, cwd: string): OtherParts {
  const first = partIn(name);
  if (first?.part !== 1 || isLogName(name)) return NONE;
  const nameOf = (part: number): string => `${first.stem}${partEnding(part)}${first.ending}`;
  if (!exists(resolve(cwd, nameOf(2)))) return NONE;
  const begin = lookAt(name, cwd);
  const one = labelledParts();
  if (begin === undefined || !one.add(recordSide(begin.seen))) return NONE;
  const found: FoundPart[] = [];
  const [title, isWhole] = [titleIn(begin.seen), one.isWhole];
  for (let number = 2; one.isOpen && exists(resolve(cwd, nameOf(number))); number += 1) {
    const file = nameOf(number);
    const part = lookAt(file, cwd);
    const side = part === undefined ? [] : recordSide(part.seen);
    // What has no event says too little, and where a text cannot be decoded, neither can its title.
    const isOther = side.length > 0 && part?.text !== undefined && begin.text !== undefined && titleIn(part.text) !== title;
    if (isOther && one.length === number - 1) return { parts: found, left: { file, why: 'has another title' } };
    if (isOther) break;
    found.push(part?.text === undefined ? { file } : { file, text: part.text });
    if (one.add(side)) continue;
    // Behind lists of their own nobody misses it; a list with holes may have lost it.
    if (one.length === number - 1 || !isWhole) return { parts: found };
    break;
  }
  const [parts, next] = [found.slice(0, one.length - 1), found[one.length - 1]];
  const { gap } = one;
  return next === undefined || gap === undefined ? { parts } : { parts, left: { file: next.file, why: `begins at ${gap.begin.labels[0]}, and the part before it ends at ${gap.end.labels[1]}` } };
}

/** The texts of parts, which a note names, as one says which was left out; undefined when one of them cannot be had, which was reported. */
export function textsOfParts(name: string, { parts, left }: OtherParts, cwd: string, report: Report): EdlPart[] | undefined {
  if (left !== undefined) report(problem('bad-event', `read without ${left.file}, which ${left.why}: a list of its own`, { file: name }, 'note'));
  const texts: EdlPart[] = [];
  for (const [index, { file, text = textOf(file, cwd, report)?.text }] of parts.entries()) {
    if (text === undefined) return undefined;
    if (formOf(text) !== 'edl') {
      report(problem('bad-event', `is called like part ${String(index + 2)} of ${name}, and is no EDL; export it again, or give it another name`, { file }));
      return undefined;
    }
    texts.push({ file, text });
  }
  if (texts.length > 0) report(problem('found', `read with its other ${texts.length === 1 ? 'part' : 'parts'}, ${texts.map(({ file }) => file).join(', ')}`, { file: name }));
  return texts;
}

/** The logs of a call without the EDLs that are read as parts of others among them, and the absolute paths of all parts that are read so. */
export function withoutParts(logs: readonly LogInput[], cwd: string): { readonly logs: readonly LogInput[]; readonly parts: ReadonlySet<string> } {
  const parts = new Set(logs.flatMap(({ path }) => (path === STANDARD ? [] : otherParts(path, cwd).parts.map(({ file }) => resolve(cwd, file)))));
  return parts.size === 0 ? { logs, parts } : { logs: logs.filter(({ path }) => path === STANDARD || !parts.has(resolve(cwd, path))), parts };
}

const NONE: OtherParts = { parts: [] };

const NOBODY: Report = () => undefined;

/** An EDL's text, and what can be seen of it, which is less where its encoding has to be said; undefined of a file that is no EDL. */
function lookAt(file: string, cwd: string): { readonly text: string | undefined; readonly seen: string } | undefined {
  const text = textOf(file, cwd, NOBODY)?.text;
  const seen = text ?? Buffer.from(bytesOf(file, cwd, MAX_BYTES, NOBODY) ?? []).toString('latin1');
  return formOf(seen) === 'edl' ? { text, seen } : undefined;
}
