import { chmodSync, chownSync, copyFileSync, lstatSync, mkdirSync, readFileSync, readlinkSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, filesIn, folderWith, type CliResult } from '../support/cli.js';
import { asNobody } from '../support/nobody.js';

// --write-show completes the user's own file in place: what it is called, what leads to it, who may read it and how it is encoded stays.

const FIXTURES = new URL('../../fixtures/media/', import.meta.url).pathname;
const SHOW = '{\n  "title": "Küche 14",\n  "sources": [{ "id": "wide", "name": "Totale" }]\n}\n';

function folder(show: string | Uint8Array): string {
  const cwd = folderWith({ 'show.json': show });
  mkdirSync(join(cwd, 'media'));
  copyFileSync(`${FIXTURES}wide-1.mov`, join(cwd, 'media', 'wide-1.mov'));
  return cwd;
}

const complete = (cwd: string, name = 'show.json'): Promise<CliResult> => cli(['media', 'media', '--write-show', name, '--threads', '1'], { cwd });

describe('the show file that media completes', () => {
  it.each([
    ['UTF-8', (text: string) => Buffer.from(text), 'utf-8'], ['UTF-8 with a mark', (text: string) => Buffer.from(`\uFEFF${text}`), 'utf-8'],
    ['UTF-16LE', (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le'), 'utf-16le'], ['UTF-16BE', (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le').swap16(), 'utf-16be'],
  ])('stays in %s', async (_name, encode, label) => {
    const cwd = folder(encode(SHOW));
    expect(await complete(cwd)).toMatchObject({ status: 0, err: expect.stringContaining('the show file was completed') as unknown });
    const bytes = readFileSync(join(cwd, 'show.json'));
    const text = new TextDecoder(label, { fatal: true }).decode(bytes);
    expect(bytes.equals(encode(text))).toBe(true);
    expect(JSON.parse(text)).toMatchObject({ title: 'Küche 14', sources: [{ id: 'wide', name: 'Totale', files: [{ path: 'media/wide-1.mov' }] }] });
  });

  it('is not touched where it is in another encoding', async () => {
    const cwd = folder(Buffer.from(SHOW, 'latin1'));
    const { status, err } = await complete(cwd);
    expect([status, err]).toEqual([1, 'show.json:2:14: error: the byte 0xFC is not UTF-8 here; save the file as UTF-8 [bad-encoding]\n']);
    expect(readFileSync(join(cwd, 'show.json')).equals(Buffer.from(SHOW, 'latin1'))).toBe(true);
  });

  it('stays what a link leads to', async () => {
    const cwd = folder(SHOW);
    mkdirSync(join(cwd, 'shared'));
    writeFileSync(join(cwd, 'shared', 'own.json'), SHOW);
    symlinkSync('shared/own.json', join(cwd, 'link.json'));
    expect((await complete(cwd, 'link.json')).status).toBe(0);
    expect([lstatSync(join(cwd, 'link.json')).isSymbolicLink(), readlinkSync(join(cwd, 'link.json'))]).toEqual([true, 'shared/own.json']);
    expect(readFileSync(join(cwd, 'shared', 'own.json'), 'utf8')).toContain('media/wide-1.mov');
    expect(filesIn(cwd)).toEqual(['media/wide-1.mov', 'shared/own.json', 'show.json']);
  });

  it.each([['a link in another folder', 'a/b/show.json'], ['a folder that is a link', 'away/show.json'], ['a link in a folder that is one', 'away/b/show.json']])('has paths from where it is, through %s', async (_, name) => {
    const files = '"files": [{ "path": "media/wide-1.mov" }]';
    const cwd = folderWith({ 'proj/show.json': `{ "sources": [{ "id": "wide", "name": "Totale", ${files} }, { "id": "desk", "name": "Ton" }] }` });
    mkdirSync(join(cwd, 'proj/media'));
    for (const recording of ['wide-1.mov', 'wide-2.mov']) copyFileSync(`${FIXTURES}${recording}`, join(cwd, 'proj/media', recording));
    mkdirSync(join(cwd, 'a/b'), { recursive: true });
    symlinkSync(name === 'away/show.json' ? 'proj' : 'a', join(cwd, 'away'));
    if (name !== 'away/show.json') symlinkSync('../../proj/show.json', join(cwd, 'a/b/show.json'));
    const { status, err } = await cli(['media', name === 'away/show.json' ? 'away/media' : 'proj/media', '--write-show', name, '--threads', '1'], { cwd });
    expect([status, err]).toEqual([0, expect.stringContaining('the show file was completed') as unknown]);
    const { sources } = JSON.parse(readFileSync(join(cwd, 'proj/show.json'), 'utf8')) as { readonly sources: readonly { readonly files?: readonly { readonly path: string }[] }[] };
    expect(sources.map((source) => source.files?.map(({ path }) => path))).toEqual([['media/wide-1.mov', 'media/wide-2.mov'], undefined]);
  });

  it.each([['0600', 0o600], ['0640', 0o640], ['0666', 0o666], ['0755', 0o755]])('keeps its permissions, %s', async (_octal, mode) => {
    const cwd = folder(SHOW);
    const path = join(cwd, 'show.json');
    chmodSync(path, mode);
    // Only root can give a file away.
    if (process.geteuid?.() === 0) chownSync(path, 65_534, 65_534);
    const { uid, gid } = statSync(path);
    expect((await complete(cwd)).status).toBe(0);
    expect(statSync(path)).toMatchObject({ mode: 0o100_000 + mode, uid, gid });
    expect(readFileSync(path, 'utf8')).toContain('media/wide-1.mov');
  });

  it('is not replaced where nobody may write to it', async () => {
    const cwd = folder(SHOW);
    const path = join(cwd, 'show.json');
    // All is loaded before.
    await complete(folder(SHOW));
    chmodSync(path, 0o444);
    chmodSync(cwd, 0o777);
    const { status, err } = await asNobody(() => complete(cwd));
    expect([status, err]).toEqual([2, expect.stringContaining('show.json: error: cannot be written: permission denied') as unknown]);
    expect(readFileSync(path, 'utf8')).toBe(SHOW);
    expect(filesIn(cwd)).toEqual(['media/wide-1.mov', 'show.json']);
  });
});
