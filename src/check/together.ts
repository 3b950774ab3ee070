/** Files of one call that belong together: the EDL, the OTIO and the chapters of one show say the same, or one of them is wrong. */
import { compareLists } from '../compare/compare.js';
import { differenceLine } from '../compare/difference.js';
import { carriedBy } from '../compare/carried.js';
import type { CutList } from '../cutlist/model.js';
import { assembleEdl } from '../formats/edl/assemble.js';
import type { EdlDocument } from '../formats/edl/document.js';
import { problem } from '../problems.js';
import { formatTimecode, framesPerDay } from '../timecode/timecode.js';
import { checkChapters } from './chapters.js';
import type { Checked } from './check.js';
import { chapterKind } from './kind.js';

/** What follows a list's name: `-2.edl`, `.chapters.vtt`, `.otio`. */
const ENDING = /(?:\.chapters)?\.[^./\\]+$/;

/** A list in one format: one file, or the parts of a divided EDL. */
interface Whole {
  readonly files: readonly Checked[];
  readonly list: CutList;
}

/**
 * Holds files with one name (in one folder) against one another: `lists-differ` for an EDL and an OTIO, `chapter-order` for chapters
 * and a list, `hole` and `overlap` between the parts of a divided EDL. Chapters without a list are checked on their own.
 */
export function checkTogether(files: readonly Checked[]): void {
  const groups = new Map<string, Checked[]>();
  for (const file of files) {
    const stem = stemOf(file, files);
    if (groups.get(stem)?.push(file) === undefined) groups.set(stem, [file]);
  }
  for (const group of groups.values()) {
    const edl = wholeEdl(group.filter(({ kind }) => kind === 'edl'));
    const otio = group.find(({ kind, placed }) => kind === 'otio' && placed !== undefined);
    const lists: Whole[] = [...(edl === undefined ? [] : [edl]), ...(otio?.placed === undefined ? [] : [{ files: [otio], list: otio.placed.list }])];
    const [first, second] = lists;
    if (first !== undefined && second !== undefined) checkLists(first, second);
    for (const file of group) if (file.chapters !== undefined) checkEnd(file, file.chapters, first?.list ?? group.find(({ placed }) => placed !== undefined)?.placed?.list);
  }
}

/** The name that a file shares with those that belong to it. `show-2.edl` belongs to `show` when `show-1.edl` is there too. */
function stemOf({ name, kind }: Checked, files: readonly Checked[]): string {
  const stem = name.replace(ENDING, '');
  const part = kind === 'edl' ? /^(.*)-(\d+)$/.exec(stem) : null;
  if (part === null) return stem;
  const ending = name.slice(stem.length);
  const other = part[2] === '1' ? '2' : '1';
  return files.some((file) => file.name === `${part[1] ?? ''}-${other}${ending}`) ? (part[1] ?? '') : stem;
}

const partNumber = ({ name }: Checked): number => Number(/-(\d+)\.[^.]*$/.exec(name)?.[1] ?? 0);

function wholeEdl(parts: readonly Checked[]): Whole | undefined {
  const sorted = [...parts].sort((a, b) => partNumber(a) - partNumber(b));
  const documents = sorted.map(({ document }) => document);
  const [first, ...rest] = documents.filter((document) => document !== undefined);
  if (first === undefined || rest.length + 1 < documents.length) return undefined;
  const [only] = sorted;
  if (rest.length === 0) return only?.placed === undefined ? undefined : { files: sorted, list: only.placed.list };
  sorted.forEach((part, index) => {
    const [before, after] = [documents[index - 1], documents[index]];
    if (before !== undefined && after !== undefined) checkSeam(before, after, part);
  });
  return { files: sorted, list: assembleEdl([first, ...rest], () => undefined) };
}

/** A part begins where the one before it ends. */
function checkSeam(before: EdlDocument, after: EdlDocument, { findings, placed }: Checked): void {
  const end = Math.max(...lastOf(before));
  const [first] = after.events;
  if (first === undefined) return;
  const day = framesPerDay(after.labels);
  const away = (((first.recordIn - end) % day) + day) % day;
  if (away === 0) return;
  const late = away <= day / 2;
  const frames = late ? away : day - away;
  const message = `the part begins at ${formatTimecode(first.recordIn, after.count)}, ${String(frames)} frames ${late ? 'after' : 'before'} the end of ${before.file}`;
  findings.at(problem(late ? 'hole' : 'overlap', message, { file: after.file, line: first.line, column: 1 }), placed === undefined ? undefined : 0);
}

/** Record out-points of the last events: sound may end with the picture or before it. */
const lastOf = ({ events }: EdlDocument): number[] => events.slice(-64).map(({ recordOut }) => recordOut);

function checkLists(edl: Whole, otio: Whole): void {
  const [target] = otio.files;
  if (target === undefined) return;
  const name = edl.files.map((file) => file.name).join(', ');
  for (const difference of compareLists(edl.list, otio.list, { carried: carriedBy('edl', 'otio', edl.list, otio.list) })) {
    target.findings.at(problem('lists-differ', `unlike ${name}: ${differenceLine(difference)}`, { file: target.name }), difference.b?.frame);
  }
}

function checkEnd({ name, findings }: Checked, text: string, list: CutList | undefined): void {
  const seconds = list === undefined ? undefined : (list.frames * list.count.rate.den) / list.count.rate.num;
  checkChapters(text, chapterKind(text, name) ?? 'text', name, seconds, findings.add);
}
