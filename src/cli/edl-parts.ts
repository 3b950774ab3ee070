/** The parts of an EDL that was divided: `show-1.edl` stands for `show-2.edl` and so on beside it, too. */
import { resolve } from 'node:path';
import type { EdlPart } from '../formats/edl/document.js';
import { partEnding, partIn } from '../formats/endings.js';
import { formOf } from '../formats/form.js';
import { MAX_BYTES } from '../log/limits.js';
import { problem, type Report } from '../problems.js';
import { textOf } from './by-hand.js';
import { bytesOf } from './input.js';
import { isLogName, type LogInput } from './inputs.js';
import { STANDARD } from './names.js';
import { exists } from './output.js';

/**
 * The other parts of an EDL called `NAME-1.edl`, as messages name them, up to the first that is missing or plainly is another list: one with another
 * title, or that begins again where the first part begins (`cut-2.edl` may be a second version). A note says why such a one is left out. Empty for any
 * other file. What folders take for a log is none (`show-1.csv`).
 */
export function otherParts(name: string, cwd: string, report: Report = NOBODY): string[] {
  const first = partIn(name);
  if (first?.part !== 1 || isLogName(name)) return [];
  const nameOf = (part: number): string => `${first.stem}${partEnding(part)}${first.ending}`;
  if (!exists(resolve(cwd, nameOf(2)))) return [];
  const begin = lookAt(name, cwd);
  if (begin === undefined) return [];
  const parts: string[] = [];
  for (let number = 2; exists(resolve(cwd, nameOf(number))); number += 1) {
    const why = asOther(lookAt(nameOf(number), cwd), begin);
    if (why !== undefined) {
      report(problem('bad-event', `read without ${nameOf(number)}, which ${why}: a list of its own`, { file: name }, 'note'));
      break;
    }
    parts.push(nameOf(number));
  }
  return parts;
}

/** The same parts with their texts, which a note names; undefined when one of them cannot be had, which was reported. */
export function readOtherParts(name: string, cwd: string, report: Report): EdlPart[] | undefined {
  const parts: EdlPart[] = [];
  for (const [index, file] of otherParts(name, cwd, report).entries()) {
    const text = textOf(file, cwd, report)?.text;
    if (text === undefined) return undefined;
    if (formOf(text) !== 'edl') {
      report(problem('bad-event', `is called like part ${String(index + 2)} of ${name}, and is no EDL; export it again, or give it another name`, { file }));
      return undefined;
    }
    parts.push({ file, text });
  }
  if (parts.length > 0) report(problem('found', `read with its other ${parts.length === 1 ? 'part' : 'parts'}, ${parts.map(({ file }) => file).join(', ')}`, { file: name }));
  return parts;
}

/** The logs of a call without the EDLs that are read as parts of others among them, and the absolute paths of all parts that are read so. */
export function withoutParts(logs: readonly LogInput[], cwd: string): { readonly logs: readonly LogInput[]; readonly parts: ReadonlySet<string> } {
  const parts = new Set(logs.flatMap(({ path }) => (path === STANDARD ? [] : otherParts(path, cwd).map((part) => resolve(cwd, part)))));
  return parts.size === 0 ? { logs, parts } : { logs: logs.filter(({ path }) => path === STANDARD || !parts.has(resolve(cwd, path))), parts };
}

const NOBODY: Report = () => undefined;

/** What can be seen of an EDL without reading it: undefined is what it does not say. */
interface Look {
  readonly title: string | undefined;
  readonly start: string | undefined;
}

/** Why a part is plainly another list. One that says too little is none: who reads it says what is wrong with it. */
function asOther(part: Look | undefined, first: Look): string | undefined {
  if (part?.start === undefined || first.start === undefined) return undefined;
  if (part.title !== first.title) return 'has another title';
  return part.start === first.start ? `begins on ${part.start} as well` : undefined;
}

/** An EDL's title, and the first of its record timecodes; undefined of a file that is no EDL. Of one in an encoding that has to be said, that is all. */
function lookAt(file: string, cwd: string): Look | undefined {
  const text = textOf(file, cwd, NOBODY)?.text;
  if (formOf(text ?? Buffer.from(bytesOf(file, cwd, MAX_BYTES, NOBODY) ?? []).toString('latin1')) !== 'edl') return undefined;
  const [, title] = /^[ \t]*TITLE:[ \t]*([^\r\n]*)/m.exec(text ?? '') ?? [];
  const starts = Array.from((text ?? '').matchAll(/^[ \t]*\d+[ \t].*[ \t](\S+)[ \t]+\S+[ \t]*\r?$/gm), ([, start = '']) => start);
  return { title: title?.trim(), start: starts.reduce<string | undefined>((least, start) => (least === undefined || start < least ? start : least), undefined) };
}
