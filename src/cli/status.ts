/** What the exit status says of problems. */
import type { Problem } from '../problems.js';

/** Exit status of what was found: 2 for trouble with files and usage, 1 for errors of the input. */
export function statusOf(problems: readonly Problem[]): number {
  let status = 0;
  for (const { severity, code, place } of problems) {
    if (severity !== 'error') continue;
    const trouble = code === 'unreadable' || code === 'file-exists' || code === 'same-output' || code === 'bad-option' || place?.option !== undefined;
    status = Math.max(status, trouble ? 2 : 1);
  }
  return status;
}
