import { describe, expect, it } from 'vitest';
import type { Command } from '../../src/cli/command.js';
import { NOWHERE, type Io } from '../../src/cli/io.js';
import { flag, text, whole } from '../../src/cli/option.js';
import { parseCall } from '../../src/cli/parse.js';

// IEEE Std 1003.1, Base Definitions 12.2, "Utility Syntax Guidelines": 5 (switches together), 6 and 7 (an option and its value), 10 (`--`), 13 (`-`).

const rest = { help: '', group: 'G' };
const OUT = text('out', 'DIR', { ...rest, short: 'o' });
const QUIET = flag('quiet', { ...rest, short: 'q' });
const FORCE = flag('force', { ...rest, short: 'f' });
const SHIFT = text('shift', 'FRAMES', rest);
const JOBS = whole('jobs', 'N', 1, rest);

const command = (args: Command['args']): Command =>
  ({ name: 'cook', summary: '', description: '', args, options: [OUT, QUIET, FORCE, SHIFT, JOBS], examples: [], run: () => Promise.resolve(0) });
const MANY = command([{ name: 'LOG', help: '', many: true }]);
const TWO = command([{ name: 'A', help: '' }, { name: 'B', help: '' }]);
const io: Io = { cwd: '/', env: {}, out: NOWHERE, err: NOWHERE, readStdin: () => Promise.resolve(undefined) };

function read(words: string, of = MANY): unknown {
  const parsed = parseCall(of, words.split(' ').filter(Boolean), io);
  if (parsed.kind === 'help') return 'help';
  if (parsed.kind === 'wrong') return parsed.problems.map(({ message, place }) => `${place?.option ?? ''}: ${message}`);
  const { args, values } = parsed.call;
  return { args, out: values.all(OUT), quiet: values.has(QUIET), force: values.has(FORCE), shift: values.get(SHIFT), jobs: values.get(JOBS) };
}

const nothing = { args: ['a.csv'], out: [], quiet: false, force: false, shift: undefined, jobs: undefined };

describe('a call', () => {
  it.each([
    ['a.csv', {}],
    ['-o lists a.csv', { out: ['lists'] }],
    ['-olists a.csv', { out: ['lists'] }],
    ['--out=lists a.csv', { out: ['lists'] }],
    ['a.csv --out lists', { out: ['lists'] }],
    ['-qf a.csv', { quiet: true, force: true }],
    ['-qo lists a.csv', { quiet: true, out: ['lists'] }],
    ['-o - a.csv', { out: ['-'] }],
    ['--shift -2 a.csv', { shift: '-2' }],
    ['--shift --quiet a.csv', { shift: '--quiet' }],
    ['--shift=a=b a.csv', { shift: 'a=b' }],
    ['--jobs 1 a.csv --jobs 3', { jobs: 3 }],
    ['-o x a.csv -o y', { out: ['x', 'y'] }],
    ['-', { args: ['-'] }],
    ['-q -- a.csv -x --out', { quiet: true, args: ['a.csv', '-x', '--out'] }],
  ])('%s', (words, expected) => {
    expect(read(words)).toEqual({ ...nothing, ...expected });
  });

  it.each(['--help', '-h', 'a.csv -qh', '--quiet --help'])('%s asks for help', (words) => {
    expect(read(words)).toBe('help');
  });

  it.each([
    ['--oot x', "--oot: there is no option '--oot'; did you mean '--out'?"],
    ['-z a.csv', "-z: there is no option '-z'; linecut help cook lists them"],
    ['-qz a.csv', "-z: there is no option '-z'; linecut help cook lists them"],
    ['--constructor a.csv', "--constructor: there is no option '--constructor'; linecut help cook lists them"],
    ['--__proto__ a.csv', "--__proto__: there is no option '--__proto__'; linecut help cook lists them"],
    ['--no-quiet a.csv', "--no-quiet: there is no option '--no-quiet'; did you mean '--quiet'?"],
    ['a.csv -o', '--out: it needs a value: --out DIR'],
    ['a.csv --jobs', '--jobs: it needs a value: --jobs N'],
    ['--quiet=yes a.csv', "--quiet: it takes no value, and 'yes' was given"],
    ['--quiet= a.csv', '--quiet: it takes no value'],
    ['--jobs none a.csv', "--jobs: 'none' is not a whole number from 1"],
    ['', ': no LOG was given; linecut help cook says more'],
  ])('%s is refused', (words, message) => {
    expect(read(words)).toEqual([message]);
  });

  it('has as many arguments as its command takes', () => {
    expect(read('a', TWO)).toEqual([': no B was given; linecut help cook says more']);
    expect(read('a b c', TWO)).toEqual([': too many arguments; linecut help cook says more']);
    expect(read('a b', TWO)).toMatchObject({ args: ['a', 'b'] });
  });
});
