/** A bar that shows how far many files are: on a terminal only, on standard error, gone when it is done. */
import type { Io } from './io.js';

export interface Progress {
  readonly show: (done: number, total: number) => void;
  /** Takes the bar off the screen; before anything else is written there, too. */
  readonly clear: () => Promise<void>;
}

/** Longest bar, and the room beside it for figures. */
const WIDTH = 40;
const FIGURES = 34;
/** No more often than this, milliseconds: a terminal is slower than the work. */
const EVERY = 80;

/** A bar for files of a kind (`logs`, `recordings`); undefined where standard error is no terminal. */
export function progressBar({ err, env }: Io, what: string): Progress | undefined {
  if (!err.isTTY || env['TERM'] === 'dumb') return undefined;
  let last = 0;
  let shown = false;
  return {
    show: (done, total) => {
      const now = Date.now();
      if (now - last < EVERY && done < total) return;
      last = now;
      shown = true;
      const width = Math.max(10, Math.min(WIDTH, (err.columns ?? 80) - FIGURES));
      const full = total === 0 ? width : Math.floor((done / total) * width);
      void err.write(`\r\u001b[K[${'='.repeat(full)}${' '.repeat(width - full)}] ${String(done)} of ${String(total)} ${what}`);
    },
    clear: async () => {
      if (shown) await err.write('\r\u001b[K');
      shown = false;
    },
  };
}
