/** The options that say how a log is read: which keys they fill, and that a list refuses those that are for logs only. */
import { expect, it } from 'vitest';
import { isFault } from '../../src/problems.js';
import type { OptionSpec, Values } from '../../src/cli/command.js';
import { loadOptions, READING } from '../../src/cli/loading.js';
import * as option from '../../src/cli/options.js';
import { cli, filesIn, folderWith } from '../support/cli.js';

const EDL = 'TITLE: X\nFCM: NON-DROP FRAME\n001  WIDE     V     C        10:00:00:00 10:00:10:00 01:00:00:00 01:00:10:00\n';

const LOG_ONLY: readonly (readonly [OptionSpec<unknown>, ...string[]])[] = [
  [option.MAP, 'm.json'], [option.TIME_AS, 'frames'], [option.LOG_RATE, '25'], [option.ROUNDING, 'floor'], [option.ANCHOR, '10:00:00=10:00:00:00'], [option.END, '10'],
  [option.AUDIO, 'none'], [option.TAKES, 'gaps'], [option.ANGLES],
];

it('a list refuses what is for logs only, by the name of each option', async () => {
  const cwd = folderWith({ 'show.edl': EDL, 'm.json': '{ "fields": { "time": "when" } }' });
  const given = LOG_ONLY.flatMap(([{ name }, ...value]) => [`--${name}`, ...value]);
  const { status, err } = await cli(['convert', 'show.edl', '--rate', '25', '-o', 'out', ...given], { cwd });
  expect(status).toBe(2);
  expect(err).toBe(LOG_ONLY.map(([{ name }]) => `--${name}: error: show.edl is a list, not a log; this option has no meaning for it [bad-option]\n`).join(''));
  expect(filesIn(cwd)).toEqual(['m.json', 'show.edl']);
});

const valuesOf = (given: ReadonlyMap<OptionSpec<unknown>, unknown>): Values => ({
  get: <T>(one: OptionSpec<T>) => given.get(one) as T | undefined,
  all: <T>(one: OptionSpec<T>) => (given.has(one) ? [given.get(one) as T] : []),
  has: (one) => given.has(one),
});

it('an option fills the key that is called like it, and no other', () => {
  expect(loadOptions(valuesOf(new Map()))).toEqual({});
  for (const one of [...READING, option.TITLE, option.DISSOLVE_AT, option.ANGLES, option.TAKES_IN_ONE]) {
    const value = one.parse('25');
    const key = one.name.replace(/-./g, ([, letter = '']) => letter.toUpperCase());
    const isFile = one === option.SHOW || one === option.MAP;
    expect(loadOptions(valuesOf(new Map([[one, isFault(value) ? '25' : value]])))).toEqual(isFile ? {} : { [key]: isFault(value) ? '25' : value });
  }
});
