import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { freshReadme, README } from '../../scripts/readme.js';
import * as library from '../../src/index.js';

it('the example, the options and the codes of the README are those of the sources (npm run generate)', async () => {
  const text = readFileSync(README, 'utf8');
  expect(await freshReadme(text)).toBe(text);
});

it('the README speaks of functions that the library has', () => {
  const text = readFileSync(README, 'utf8').split('## In your own scripts')[1] ?? '';
  const imported = (/import \{ ([^}]+) \} from 'linecut'/.exec(text)?.[1]?.split(', ') ?? []).filter((name) => !name.startsWith('type '));
  const named = [...text.matchAll(/`((?:read|write|show|build|place|load|check|find|is)[A-Z]\w+)`/g)].map(([, name]) => name ?? '');
  expect(imported.length).toBeGreaterThan(3);
  expect(named.length).toBeGreaterThan(8);
  for (const name of [...imported, ...named]) expect(library).toHaveProperty(name);
});
