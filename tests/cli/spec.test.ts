import { spawnSync } from 'node:child_process';
import { Command, Option } from 'commander';
import { describe, expect, it } from 'vitest';
import { completionScript } from '../../src/cli/completions.js';
import { manPage } from '../../src/cli/manual.js';
import { specOf, withExamples } from '../../src/cli/spec.js';

const program = (): Command => {
  const made = new Command('linecut').description("reads a log, writes lists; it's all exact").version('1.2.3');
  const convert = made
    .command('convert')
    .argument('<log...>')
    .description('log → lists')
    .option('-o, --out <dir>', 'where to [write]')
    .option('--quiet', "don't say anything")
    .addOption(new Option('--rounding <how>', 'to the nearest frame, or not').choices(['nearest', 'floor', 'ceil']));
  withExamples(convert, ['$ linecut convert show.csv -o out']);
  made.command('check').argument('<file...>').description('is it sound?').option('--json', 'as JSON');
  return made;
};

const bash = (line: string): string[] => {
  const words = line.split(' ');
  const script = `${completionScript('bash', specOf(program()))}
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
  });
});

describe('the other shells', () => {
  it('get every option of every command, quoted', () => {
    const spec = specOf(program());
    for (const shell of ['zsh', 'fish'] as const) {
      const script = completionScript(shell, spec);
      for (const flag of ['out', 'quiet', 'rounding', 'json']) expect(script).toContain(flag);
      expect(script).toContain(`don'\\''t say anything`);
    }
    expect(completionScript('zsh', spec)).toContain('where to \\[write\\]');
  });
});

describe('the man page', () => {
  it('has each command, option and example, and no line that roff would take as an order', () => {
    const page = manPage(specOf(program()), '1.2.3');
    for (const text of ['.SH NAME', 'linecut 1.2.3', '\\fB\\-\\-rounding\\fR', '(nearest, floor, ceil)', '$ linecut convert show.csv \\-o out', '.SH EXIT STATUS']) {
      expect(page).toContain(text);
    }
    const orders = new Set(page.split('\n').filter((line) => line.startsWith('.')).map((line) => line.split(' ')[0]));
    expect([...orders].sort()).toEqual(['.B', '.PP', '.SH', '.SS', '.TH', '.TP', '.br', '.fi', '.nf']);
    expect(manPage(specOf(program()), '1.2.3')).toBe(page);
  });

  it('puts examples at the end of --help', () => {
    let text = '';
    const made = program();
    made.commands[0]?.configureOutput({ writeOut: (part) => (text += part) });
    made.commands[0]?.outputHelp();
    expect(text.trimEnd().endsWith('$ linecut convert show.csv -o out')).toBe(true);
  });
});
