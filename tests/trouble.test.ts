import { chmodSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { fileTrouble } from '../src/trouble.js';
import { folderWith } from './support/cli.js';

it('troubles of files are said in words', () => {
  const folder = folderWith();
  const trouble = (path: string): string => {
    try {
      writeFileSync(path, 'x');
      return '';
    } catch (cause) {
      return fileTrouble(cause);
    }
  };
  mkdirSync(join(folder, 'd'));
  chmodSync(join(folder, 'd'), 0o755);
  expect(trouble(join(folder, 'no/a'))).toBe('there is no such file or folder');
  expect(trouble(join(folder, 'd'))).toBe('it is a folder');
  expect(trouble(join(folder, 'x'.repeat(300)))).toBe('the name is too long');
});

it('what is no trouble of a file says it itself', () => {
  expect(fileTrouble(new Error('the reader gave up'))).toBe('the reader gave up');
  expect(fileTrouble('gave up')).toBe('gave up');
});
