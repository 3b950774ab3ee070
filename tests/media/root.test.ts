/** `convert --media-root`, from the command line to the EDL and the OTIO. */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Io, Sink } from '../../src/cli/io.js';
import { run } from '../../src/cli/program.js';

const FIXTURES = new URL('../../fixtures/media/', import.meta.url).pathname;
let folder = '';

/** A show of 20 frames on two cameras, whose recordings lie on a card. */
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'linecut-root-'));
  mkdirSync(join(folder, 'card'));
  for (const name of ['wide-1.mov', 'wide-2.mov', 'program.mxf']) copyFileSync(FIXTURES + name, join(folder, 'card', name));
  expect((await linecut('media', 'card', '--write-show', 'show.show.json')).status).toBe(0);
  writeFileSync(join(folder, 'show.csv'), 'time,action,source\n10:00:59;24,start,\n10:00:59;24,cut,wide\n10:01:00;14,stop,\n');
});
afterEach(() => { rmSync(folder, { recursive: true, force: true }); });

async function linecut(...args: string[]): Promise<{ status: number; err: string }> {
  let err = '';
  const sink = (keep: boolean): Sink => ({ write: (more) => { if (keep) err += more; return Promise.resolve(); }, isTTY: false, columns: 80 });
  const io: Io = { cwd: folder, env: {}, out: sink(false), err: sink(true), readStdin: () => Promise.resolve(undefined) };
  return { status: await run(args, io), err };
}

const convert = (...args: string[]): Promise<{ status: number; err: string }> => linecut('convert', 'show.csv', '--rate', '29.97df', '-o', 'lists', '--force', ...args);

/** The files of the EDL's events, and the URLs of the OTIO's picture clips. */
function files(): { edl: string[]; otio: string[] } {
  const edl = readFileSync(join(folder, 'lists', 'show.edl'), 'latin1').split('\r\n').flatMap((line) => /^\* SOURCE FILE: (.*)$/.exec(line)?.[1] ?? []);
  const otio = [...readFileSync(join(folder, 'lists', 'show.otio'), 'utf8').matchAll(/"target_url": ?"([^"]*)"/g)].map(([, url = '']) => url);
  return { edl, otio };
}

const url = (...path: string[]): string => pathToFileURL(join(folder, ...path)).href;

describe('convert --media-root', () => {
  test('recordings that were moved are found, in the EDL and in the OTIO; without it they stay on the card', async () => {
    mkdirSync(join(folder, 'edit', 'day 1'), { recursive: true });
    for (const name of ['wide-1.mov', 'wide-2.mov']) renameSync(join(folder, 'card', name), join(folder, 'edit', 'day 1', name));
    expect((await convert()).status).toBe(0);
    expect(files().edl).toEqual(['card/wide-1.mov', 'card/wide-2.mov']);
    const { status, err } = await convert('--media-root', 'edit');
    expect(status).toBe(0);
    expect(files()).toEqual({ edl: ['edit/day 1/wide-1.mov', 'edit/day 1/wide-2.mov'], otio: [url('edit', 'day 1', 'wide-1.mov'), url('edit', 'day 1', 'wide-2.mov')] });
    expect(err).toContain('card/program.mxf: warning: it is still at');
    expect(err).not.toContain('wide-');
    expect((await convert('--media-root', 'edit', '--paths', 'relative')).status).toBe(0);
    expect(files()).toEqual({ edl: ['edit/day 1/wide-1.mov', 'edit/day 1/wide-2.mov'], otio: ['../edit/day%201/wide-1.mov', '../edit/day%201/wide-2.mov'] });
    expect((await convert('--media-root', 'edit', '--paths', 'absolute')).status).toBe(0);
    expect(files().edl).toEqual([join(folder, 'edit', 'day 1', 'wide-1.mov'), join(folder, 'edit', 'day 1', 'wide-2.mov')]);
  });

  test('another recording of the same name is not taken for it: it is measured', async () => {
    mkdirSync(join(folder, 'edit'));
    copyFileSync(`${FIXTURES}wide-3.mov`, join(folder, 'edit', 'wide-1.mov'));
    rmSync(join(folder, 'card', 'wide-1.mov'));
    const { err } = await convert('--media-root', 'edit');
    expect(err).toMatch(/^card\/wide-1\.mov: warning: it is neither there nor below edit \(.*wide-1\.mov has its name, but .*another start timecode, 5 frames instead of 12\) \[missing-file\]$/m);
    expect(files().edl[0]).toBe('card/wide-1.mov');
  });

  test('two copies are reported', async () => {
    for (const name of ['a', 'b']) {
      mkdirSync(join(folder, 'edit', name), { recursive: true });
      copyFileSync(`${FIXTURES}wide-1.mov`, join(folder, 'edit', name, 'wide-1.mov'));
    }
    const { status, err } = await convert('--media-root', 'edit');
    expect(status).toBe(0);
    expect(err).toContain('[two-candidates]');
    expect(files().edl[0]).toBe('edit/a/wide-1.mov');
    expect((await convert('--media-root', 'edit', '--strict')).status).toBe(1);
  });

  test('a root that is a file: status 2', async () => {
    const { status, err } = await convert('--media-root', 'show.csv');
    expect(status).toBe(2);
    expect(err).toMatch(/^show\.csv: error: it is a file; recordings are sought in a folder \[unreadable\]$/m);
    expect(err).not.toContain('missing-file');
  });

  test('a root that is not there: status 2, and nothing is written', async () => {
    const { status, err } = await convert('--media-root', 'gone');
    expect(status).toBe(2);
    expect(err).toMatch(/^gone: error: cannot be read: there is no such file or folder \[unreadable\]$/m);
    expect(err).not.toContain('missing-file');
  });
});

describe('media --write-show, when the recordings have moved', () => {
  const shown = (): string[] => [...readFileSync(join(folder, 'show.show.json'), 'utf8').matchAll(/"path": "([^"]*)"/g)].map(([, path = '']) => path);

  test('puts their paths right, in the same sources', async () => {
    const before = readFileSync(join(folder, 'show.show.json'), 'utf8');
    renameSync(join(folder, 'card'), join(folder, 'edit'));
    const { status, err } = await linecut('media', 'edit', '--write-show', 'show.show.json');
    expect(status).toBe(0);
    expect(readFileSync(join(folder, 'show.show.json'), 'utf8')).toBe(before.replaceAll('card/', 'edit/'));
    expect(err).toContain("edit/wide-1.mov: note: source 'wide' named it at card/wide-1.mov; its path was put right [found]");
  });

  test('leaves copies out while the card is there, and takes them with --force', async () => {
    const before = readFileSync(join(folder, 'show.show.json'), 'utf8');
    mkdirSync(join(folder, 'edit'));
    for (const name of ['wide-1.mov', 'wide-2.mov']) copyFileSync(FIXTURES + name, join(folder, 'edit', name));
    const { status, err } = await linecut('media', 'edit', '--write-show', 'show.show.json');
    expect(status).toBe(0);
    expect(err).toContain("edit/wide-2.mov: warning: source 'wide' names it at card/wide-2.mov, and it is there too; this one was left out (--force takes it) [two-candidates]");
    expect(readFileSync(join(folder, 'show.show.json'), 'utf8')).toBe(before);
    expect((await linecut('media', 'edit', '--write-show', 'show.show.json', '--force')).status).toBe(0);
    expect(shown()).toEqual(['edit/wide-1.mov', 'edit/wide-2.mov', 'card/program.mxf']);
  });
});
