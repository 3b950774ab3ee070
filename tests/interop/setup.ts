/** Before any interop test: the judges must be there. Started without run.sh the suite stops here, and says why. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { PYTHON, WORK } from './support.js';

export function setup(): void {
  const gone = ['ffmpeg', 'ffprobe', 'mkvmerge', 'mkvextract', 'mediainfo', 'chromium'].filter(
    (command) => spawnSync('which', [command]).status !== 0,
  );
  if (!existsSync(PYTHON)) gone.push(PYTHON);
  if (gone.length > 0) throw new Error(`not there: ${gone.join(', ')}; start the suite with npm run test:interop`);
  mkdirSync(WORK, { recursive: true });
  // What a run wrote stays for a look at it; what is older than a day goes. A run beside this one keeps its own.
  for (const name of readdirSync(WORK)) {
    const folder = join(WORK, name);
    if (Date.now() - statSync(folder).mtimeMs > 86_400_000) rmSync(folder, { recursive: true, force: true });
  }
}
