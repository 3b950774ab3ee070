import { describe, expect, it } from 'vitest';
import { NOWHERE, type Io } from '../../src/cli/io.js';
import { barText, progressBar } from '../../src/cli/progress.js';

describe('the progress bar', () => {
  it('never fills a line, so that it is never wrapped', () => {
    for (let columns = 1; columns < 120; columns += 1) {
      for (const [done, total] of [[0, 9], [7, 2000], [2000, 2000], [1_000_000, 1_000_000]] as const) {
        expect(barText(done, total, 'recordings', columns).length).toBeLessThan(columns);
      }
    }
  });

  it('shows its share where there is room, figures where there is little', () => {
    expect(barText(500, 2000, 'logs', 80)).toBe(`[${'='.repeat(10)}${' '.repeat(30)}]  500 of 2000 logs`);
    expect(barText(500, 2000, 'logs', 20)).toBe(' 500 of 2000 logs');
    expect(barText(500, 2000, 'logs', 10)).toBe(' 500 of 2');
  });

  it('keeps its length while it grows', () => {
    expect(new Set([0, 9, 10, 99, 100].map((done) => barText(done, 100, 'logs', 30).length)).size).toBe(1);
  });

  it('comes back at once after it was taken off for other words', async () => {
    let screen = '';
    const err = { ...NOWHERE, isTTY: true, columns: 80, write: (text: string) => { screen = text; return Promise.resolve(); } };
    const bar = progressBar({ cwd: '', env: {}, out: NOWHERE, err, readStdin: () => Promise.resolve(undefined) }, 'logs');
    for (const done of [1, 2, 3]) {
      await bar?.clear();
      bar?.show(done, 9);
      expect(screen).toContain(`${String(done)} of 9 logs`);
    }
  });

  it('asks for the width each time, and takes a terminal without one for a usual one', () => {
    const said: string[] = [];
    let columns: number | undefined = 30;
    const err = { ...NOWHERE, isTTY: true, get columns() { return columns; }, write: (text: string) => { said.push(text); return Promise.resolve(); } };
    const bar = progressBar({ cwd: '', env: {}, out: NOWHERE, err, readStdin: () => Promise.resolve(undefined) } satisfies Io, 'logs');
    for (const width of [30, 20, 0, undefined]) {
      columns = width;
      bar?.show(9, 9);
    }
    expect(said.map((text) => text.length - '\r\u001b[K'.length)).toEqual([29, 19, 54, 54]);
    expect(progressBar({ cwd: '', env: { TERM: 'dumb' }, out: NOWHERE, err, readStdin: () => Promise.resolve(undefined) }, 'logs')).toBeUndefined();
  });
});
