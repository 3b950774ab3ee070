/** Files of one call that belong together: the EDL, the OTIO and the chapters of one show say the same, or one of them is wrong. */
import { compareLists } from '../compare/compare.js';
import { differenceLine } from '../compare/difference.js';
import { carriedBy } from '../compare/carried.js';
import type { CutList } from '../cutlist/model.js';
import { problem } from '../problems.js';
import { checkAgainst } from './against.js';
import { checkChapters } from './chapters.js';
import type { Checked } from './check.js';
import { chapterKind } from './kind.js';
import { wholeEdl, wholeFile, type Whole } from './whole.js';

/** What follows a list's name: `-2.edl`, `.chapters.vtt`, `.otio`. */
const ENDING = /(?:\.chapters)?\.[^./\\]+$/;

/**
 * Holds files with one name (in one folder) against one another: `lists-differ` for an EDL and an OTIO, `chapter-order` for chapters
 * and a list, `hole` and `overlap` between the parts of a divided EDL; and each list against that of its log, where `against` gives it.
 * Chapters without a list are checked on their own.
 */
export function checkTogether(files: readonly Checked[], against?: CutList): void {
  const groups = new Map<string, Checked[]>();
  for (const file of files) {
    const stem = stemOf(file, files);
    if (groups.get(stem)?.push(file) === undefined) groups.set(stem, [file]);
  }
  for (const group of groups.values()) {
    const edl = wholeEdl(group.filter(({ kind }) => kind === 'edl'));
    const otios = group.filter(({ kind }) => kind === 'otio').map(wholeFile).filter((otio) => otio !== undefined);
    const [otio] = otios;
    if (edl !== undefined && otio !== undefined) checkLists(edl, otio);
    if (against !== undefined) for (const whole of [...(edl === undefined ? [] : [edl]), ...otios]) checkAgainst(whole, against);
    const list = (edl ?? otio)?.list ?? group.find(({ placed }) => placed !== undefined)?.placed?.list;
    for (const file of group) if (file.chapters !== undefined) checkEnd(file, file.chapters, list);
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
