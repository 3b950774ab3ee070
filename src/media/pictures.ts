/** Pictures that do not look like the others: another size, or another scan. */
import { problem, type Problem } from '../problems.js';
import { isProgram, type Group } from './group.js';
import type { Placed } from './order.js';

/** `1920x1080 progressive`. */
function look({ recording: { picture } }: Placed): string | undefined {
  if (picture === undefined) return undefined;
  return `${String(picture.width)}x${String(picture.height)}${picture.scan === undefined ? '' : ` ${picture.scan}`}`;
}

/** Reports each source once for each look other than the program recording's, or where there is none, than that of most sources (`picture-differs`). */
export function pictureDifferences(groups: readonly Group[]): Problem[] {
  const usual = usualLook(groups);
  if (usual === undefined) return [];
  const problems: Problem[] = [];
  for (const { name, files } of groups) {
    const seen = new Set<string>([usual.look]);
    for (const file of files) {
      const found = look(file);
      if (found === undefined || seen.has(found)) continue;
      seen.add(found);
      problems.push(problem('picture-differs', `source '${name}' is ${found}, and ${usual.whose} ${usual.look}`, { file: file.recording.path }));
    }
  }
  return problems;
}

function usualLook(groups: readonly Group[]): { look: string; whose: string } | undefined {
  const program = groups.find(isProgram)?.files.map(look).find((one) => one !== undefined);
  if (program !== undefined) return { look: program, whose: 'the program recording is' };
  const counts = new Map<string, number>();
  for (const { files } of groups) for (const one of new Set(files.map(look))) if (one !== undefined) counts.set(one, (counts.get(one) ?? 0) + 1);
  // Of equals the first one counts, so that every run says the same.
  const [most] = [...counts].sort(([, a], [, b]) => b - a);
  return most === undefined ? undefined : { look: most[0], whose: 'most are' };
}
