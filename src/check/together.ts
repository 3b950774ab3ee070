/** Files of one call that belong together: the EDL, the OTIO and the chapters of one show say the same, or one of them is wrong. */
import { compareLists } from '../compare/compare.js';
import { differenceLine } from '../compare/difference.js';
import { carriedBy } from '../compare/carried.js';
import type { CutList } from '../cutlist/model.js';
import { stemOf, takeEnding, takeIn } from '../formats/endings.js';
import { known } from '../known.js';
import { problem } from '../problems.js';
import { checkAgainst, type Logged } from './against.js';
import { checkChapters } from './chapters.js';
import type { Checked } from './check.js';
import { chapterKind } from './kind.js';
import { divisionsOf, ofOneTitle } from './parts.js';
import { wholeEdl, wholeFile, type Whole } from './whole.js';

/**
 * Holds files with one name (in one folder) against one another: `lists-differ` for an EDL and an OTIO, `chapter-order` for chapters
 * and a list, `hole` and `overlap` between the parts of a divided EDL, `not-compared` where one of them cannot be read; and each list against that of its log, where `against` gives it: those of separate takes in their order, and a list is named after its take.
 * Chapters without a list are checked on their own. `hasSound`: whether it is said what the log sounds like (default: where its list has sound).
 */
export function checkTogether(files: readonly Checked[], against?: CutList | readonly CutList[], { hasSound }: Pick<Logged, 'hasSound'> = {}): void {
  const logged = (against === undefined ? [] : [against].flat()).map((list): Logged => ({ list, ...known({ hasSound }) }));
  for (const [stem, { files: group, edls: divided }] of groupsOf(files)) {
    const edls = divided.map(wholeEdl).filter((edl) => edl !== undefined);
    const otios = group.filter(({ kind }) => kind === 'otio').map(wholeFile).filter((otio) => otio !== undefined);
    const [otio] = otios;
    if (otio !== undefined || logged.length > 0) for (const parts of divided) tellMissing(parts);
    if (otio !== undefined) for (const edl of edls) checkLists(edl, otio);
    if (logged.length > 0) for (const whole of [...edls, ...otios]) checkLogged(whole, stem, logged);
    const list = (edls[0] ?? otio)?.list ?? group.find(({ placed }) => placed !== undefined)?.placed?.list;
    for (const file of group) if (file.chapters !== undefined) checkEnd(file, file.chapters, list);
  }
}

/** Files of one name. */
interface Group {
  readonly files: Checked[];
  /** The EDLs among them, each with all its parts. */
  readonly edls: (readonly Checked[])[];
}

/** The groups by the name that their files share. */
function groupsOf(files: readonly Checked[]): ReadonlyMap<string, Group> {
  const groups = new Map<string, Group>();
  const groupOf = (stem: string): Group => {
    const group = groups.get(stem) ?? { files: [], edls: [] };
    groups.set(stem, group);
    return group;
  };
  const byName = new Map(files.map((file) => [file.name, file]));
  const divisions = divisionsOf([...byName.keys()]);
  const divided = new Map<Checked, { readonly stem: string; readonly parts: readonly Checked[] }>();
  for (const division of new Set(divisions.values())) {
    const titleOf = (name: string): string | undefined => {
      const document = byName.get(name)?.document;
      return document === undefined ? undefined : document.title ?? '';
    };
    const names = ofOneTitle(division, titleOf);
    const parts = names.map((name) => byName.get(name)).filter((part) => part !== undefined);
    // A part that cannot be read is one all the same; logs and OTIOs with numbers are not divided. One that others with another title leave alone is whole.
    if ((parts.length > 1 || names === division.names) && parts.some(({ kind }) => kind === 'edl')) {
      for (const part of parts) divided.set(part, { stem: division.stem, parts });
    }
  }
  for (const file of files) {
    const { stem, parts } = divided.get(file) ?? { stem: stemOf(file.name), parts: undefined };
    const group = groupOf(stem);
    group.files.push(file);
    if (parts === undefined ? file.kind === 'edl' : file === parts[0]) group.edls.push(parts ?? [file]);
  }
  return groups;
}

/** A divided EDL is compared as a whole: where a part cannot be read, its other parts are not, and it is said of each. */
function tellMissing(parts: readonly Checked[]): void {
  const missing = parts.filter(({ document }) => document === undefined).map(({ name }) => name);
  if (missing.length === 0) return;
  for (const { name, document, findings } of parts) {
    if (document !== undefined) findings.add(problem('not-compared', `a divided EDL is compared as a whole, and ${missing.join(', ')} cannot be read`, { file: name }));
  }
}

/** Holds a list against its log; where takes are separate, against the take that its name says. */
function checkLogged(whole: Whole, stem: string, logged: readonly Logged[]): void {
  const take = takeIn(stem);
  const own = logged.length === 1 ? logged[0] : logged[(take ?? 0) - 1];
  if (own !== undefined) {
    checkAgainst(whole, own);
    return;
  }
  const said = take === undefined ? 'its name does not say which of them it is' : `there is no take ${String(take)} among them`;
  const message = `the log has ${String(logged.length)} takes, each a list, and ${said}; expected a name from NAME${takeEnding(1)} to NAME${takeEnding(logged.length)}, or --takes as the list was made`;
  for (const { name, findings } of whole.files) findings.add(problem('not-compared', message, { file: name }));
}

function checkLists(edl: Whole, otio: Whole): void {
  const [target] = otio.files;
  if (target === undefined) return;
  const name = edl.files.map((file) => file.name).join(', ');
  for (const difference of compareLists(edl.list, otio.list, { carried: carriedBy('edl', 'otio', edl.list, otio.list) })) {
    target.findings.add({ ...problem('lists-differ', `unlike ${name}: ${differenceLine(difference)}`, { file: target.name }), ...known({ at: difference.b?.frame }) });
  }
}

function checkEnd({ name, findings }: Checked, text: string, list: CutList | undefined): void {
  const seconds = list === undefined ? undefined : (list.frames * list.count.rate.den) / list.count.rate.num;
  checkChapters(text, chapterKind(text, name) ?? 'text', name, seconds, findings.add);
}
