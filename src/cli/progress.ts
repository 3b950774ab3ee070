/** A bar that shows how far many files are: on a terminal only, on standard error, gone when it is done. */
import type { Io } from './io.js';

export interface Progress {
  readonly show: (done: number, total: number) => void;
  /** Takes the bar off the screen; before anything else is written there, too. */
  readonly clear: () => Promise<void>;
}

/** Longest bar, the shortest that says anything, and what stands about it: two brackets, a space, and a free column. */
const WIDTH = 40;
const SHORTEST = 5;
const ROOM = 4;
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
      // A bar that was taken off for other words comes back at once.
      if (shown && now - last < EVERY && done < total) return;
      last = now;
      shown = true;
      void err.write(`\r\u001b[K${barText(done, total, what, columnsOf(err))}`);
    },
    clear: async () => {
      if (shown) await err.write('\r\u001b[K');
      shown = false;
    },
  };
}

/** Some terminals say they have no columns; then, as where none are known, it is the usual width. */
const columnsOf = ({ columns }: Io['err']): number => (columns === undefined || columns === 0 ? 80 : columns);

/** The bar with its figures, in fewer than `columns` columns: a line that is wrapped could not be taken off the screen again. */
export function barText(done: number, total: number, what: string, columns: number): string {
  const figures = `${String(done).padStart(String(total).length)} of ${String(total)} ${what}`;
  const width = Math.min(WIDTH, columns - figures.length - ROOM);
  if (width < SHORTEST) return figures.slice(0, Math.max(0, columns - 1));
  const full = total === 0 ? width : Math.floor((done / total) * width);
  return `[${'='.repeat(full)}${' '.repeat(width - full)}] ${figures}`;
}
