/** A list as the files that a run writes. */
import type { CutList } from '../../src/cutlist/model.js';
import type { ChapterForm } from '../../src/formats/chapters/forms.js';
import type { Output } from '../../src/formats/output.js';
import { writeChapters } from '../../src/formats/chapters/write.js';
import { writeEdl } from '../../src/formats/edl/write.js';
import { writeOtio } from '../../src/formats/otio/write.js';
import { checkFile, type Checked, type CheckInput, type CheckOptions } from '../../src/check/check.js';
import { checkTogether } from '../../src/check/together.js';
import { problemLine } from '../../src/problems.js';

export interface Written {
  readonly name: string;
  readonly text: string;
}

const nothing = (): void => undefined;

export const edlOf = (list: CutList, name = 'show'): Written[] =>
  writeEdl(list, {}, nothing).map(({ suffix, chunks }) => ({ name: `${name}${suffix}`, text: [...chunks].join('') }));

export const otioOf = (list: CutList, name = 'show'): Written => ({ name: `${name}.otio`, text: [...writeOtio(list, { base: '/shows/14', angles: false }).chunks].join('') });

export async function chaptersOf(list: CutList, as: ChapterForm, name = 'show'): Promise<Written> {
  const { suffix, chunks } = await writeChapters(list, { as }, nothing) as Output;
  return { name: `${name}${suffix}`, text: [...chunks].join('') };
}

/** Checks files, each by itself and together. */
export async function checkAll(files: readonly (Written & Partial<CheckInput>)[], options: CheckOptions = {}, against?: CutList): Promise<Checked[]> {
  const checked: Checked[] = [];
  for (const { name, text, show } of files) checked.push(await checkFile({ name, bytes: text, ...(show === undefined ? {} : { show }) }, options));
  checkTogether(checked, against);
  return checked;
}

/** All findings as lines. */
export const said = (checked: readonly Checked[]): string[] => checked.flatMap(({ findings }) => findings.sorted.map(problemLine));

/** The codes of all findings, each once. */
export const codes = (checked: readonly Checked[]): string[] => [...new Set(checked.flatMap(({ findings }) => findings.sorted.map(({ code }) => code)))].sort();
