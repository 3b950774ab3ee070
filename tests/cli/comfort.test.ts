import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import type { OptionSpec } from '../../src/cli/command.js';
import { completionScript, type ProgramSpec } from '../../src/cli/completion-scripts.js';
import { manPage } from '../../src/cli/man-page.js';

const option = (name: string, help: string, rest: Partial<OptionSpec<unknown>> = {}): OptionSpec<unknown> => ({ name, help, group: 'x', parse: (text) => text, ...rest });

const PROGRAM: ProgramSpec = {
  name: 'linecut',
  summary: "reads a log, writes lists; it's all exact",
  commands: [
    {
      name: 'convert',
      summary: 'log to lists',
      description: 'Reads a log.\nWrites lists.',
      args: [{ name: 'LOG', help: 'the log', many: true }],
      options: [
        option('out', 'where to [write]', { short: 'o', value: 'DIR', kind: 'folder' }),
        option('quiet', "don't say anything"),
        option('rounding', 'to the nearest frame, or not', { value: 'HOW', choices: ['nearest', 'floor', 'ceil'] }),
        option('rate', 'of the list', { value: 'RATE' }),
      ],
      examples: [{ command: 'linecut convert show.csv -o out', says: 'All three lists' }],
    },
    { name: 'check', summary: 'is it sound?', description: '.dots first', args: [], options: [option('json', 'as JSON')], examples: [] },
  ],
};

const bash = (line: string): string[] => {
  const words = line.split(' ');
  const script = `${completionScript('bash', PROGRAM)}
COMP_WORDS=(${words.map((word) => `'${word}'`).join(' ')}); COMP_CWORD=${String(words.length - 1)}; _linecut; printf '%s\\n' "\${COMPREPLY[@]}"`;
  const run = spawnSync('bash', ['-c', script], { encoding: 'utf8' });
  expect(run.stderr).toBe('');
  return run.stdout.split('\n').filter((word) => word !== '');
};

describe('bash completion, asked of bash itself', () => {
  it('knows commands, options and values', () => {
    expect(bash('linecut co')).toEqual(['convert']);
    expect(bash('linecut convert --ro')).toEqual(['--rounding']);
    expect(bash('linecut convert --rounding ')).toEqual(['nearest', 'floor', 'ceil']);
    expect(bash('linecut check --j')).toEqual(['--json']);
    expect(bash('linecut check --ro')).toEqual([]);
    expect(bash('linecut convert --rate 2')).toEqual([]);
    expect(bash('linecut --ver')).toEqual(['--version']);
  });
});

describe('the other shells', () => {
  it('get every option of every command, quoted', () => {
    for (const shell of ['zsh', 'fish'] as const) {
      const script = completionScript(shell, PROGRAM);
      for (const flag of ['out', 'quiet', 'rounding', 'json']) expect(script).toContain(flag);
      expect(script).toContain(`don'\\''t say anything`);
    }
    expect(completionScript('zsh', PROGRAM)).toContain('where to \\[write\\]');
  });
});

describe('the man page', () => {
  it('has each command, option and example, and no line that roff would take as an order', () => {
    const page = manPage(PROGRAM, '1.2.3');
    for (const text of ['.SH NAME', 'linecut 1.2.3', '\\fB\\-\\-rounding\\fR \\fIHOW\\fR', 'linecut convert show.csv \\-o out', '.SH EXIT STATUS', '\\&.dots first']) {
      expect(page).toContain(text);
    }
    const orders = new Set(page.split('\n').filter((line) => line.startsWith('.')).map((line) => line.split(' ')[0]));
    expect([...orders].sort()).toEqual(['.B', '.PP', '.SH', '.SS', '.TH', '.TP', '.br', '.fi', '.nf']);
    expect(manPage(PROGRAM, '1.2.3')).toBe(page);
  });
});
