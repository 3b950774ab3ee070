/** Completions and the man page, judged by the shells (bash, zsh, fish) and the man formatter themselves. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { workFolder } from './support.js';

const BIN = join(import.meta.dirname, '../../bin/linecut.js');
let folder: string;

const linecut = (...args: string[]): string => {
  const run = spawnSync(process.execPath, [BIN, ...args], { encoding: 'utf8' });
  expect([run.status, run.stderr]).toEqual([0, '']);
  return run.stdout;
};

const shell = (command: string, args: readonly string[]): string => {
  const run = spawnSync(command, args, { encoding: 'utf8', cwd: folder, env: { ...process.env, HOME: folder, XDG_CONFIG_HOME: folder } });
  if (run.error !== undefined) throw run.error;
  expect(run.stderr).toBe('');
  return run.stdout;
};

beforeAll(() => {
  folder = workFolder('shells');
  writeFileSync(join(folder, 'two words.csv'), '');
  mkdirSync(join(folder, 'two folders'));
  for (const name of ['bash', 'zsh', 'fish']) writeFileSync(join(folder, name), linecut('completions', name));
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('completions', () => {
  it('work in bash', () => {
    const ask = (...words: string[]): string[] =>
      shell('bash', ['--norc', '-c', `source ./bash; COMP_WORDS=(${words.map((word) => `'${word}'`).join(' ')}); COMP_CWORD=${String(words.length - 1)}; _linecut; printf '%s\\n' "\${COMPREPLY[@]}"`]).split('\n').filter((word) => word !== '');
    expect(ask('linecut', 'con')).toEqual(['convert']);
    expect(ask('linecut', 'convert', '--chapters-a')).toEqual(['--chapters-as']);
    expect(ask('linecut', 'convert', '--rounding', 'c')).toEqual(['ceil']);
    // As bash takes it apart.
    expect(ask('linecut', 'convert', '--rounding', '=', 'c')).toEqual(['ceil']);
    expect(ask('linecut', 'convert', '--rounding', '=')).toEqual(['nearest', 'floor', 'ceil']);
    expect(ask('linecut', 'convert', '--to', 'ed')).toEqual(['edl']);
    expect(ask('linecut', 'convert', '--to', 'edl,')).toEqual(['edl,otio', 'edl,chapters', 'edl,cutlog']);
    expect(ask('linecut', 'convert', '--to', '=', 'otio,edl,c')).toEqual(['otio,edl,chapters', 'otio,edl,cutlog']);
    // Nothing that is typed is run.
    expect(ask('linecut', 'convert', '--to', '$(touch ran),')).toEqual(['$(touch ran),edl', '$(touch ran),otio', '$(touch ran),chapters', '$(touch ran),cutlog']);
    expect(existsSync(join(folder, 'ran'))).toBe(false);
    expect(ask('linecut', 'convert', '--hel')).toEqual(['--help']);
    expect(ask('linecut', 'hel')).toEqual(['help']);
    expect(ask('linecut', 'help', 'con')).toEqual(['convert']);
    expect(ask('linecut', 'completions', '')).toEqual(['bash', 'zsh', 'fish']);
    expect(ask('linecut', 'convert', 'two').sort()).toEqual(['two folders', 'two words.csv']);
    expect(ask('linecut', 'convert', '-o', 'two')).toEqual(['two folders']);
    expect(ask('linecut', 'convert', '--show', 'two w')).toEqual(['two words.csv']);
  });

  it('work in fish', () => {
    const ask = (line: string): string[] => shell('fish', ['--no-config', '-c', `source ./fish; complete -C '${line}'`]).split('\n').filter((word) => word !== '').map((word) => word.split('\t')[0] ?? '');
    expect(ask('linecut con')).toEqual(['convert']);
    expect(ask('linecut convert --chapters-a')).toEqual(['--chapters-as']);
    expect(ask('linecut convert --rounding ').sort()).toEqual(['ceil', 'floor', 'nearest']);
    expect(ask('linecut convert --to ').sort()).toEqual(['chapters', 'cutlog', 'edl', 'otio']);
    for (const to of ['--to ', '--to=']) expect(ask(`linecut convert ${to}edl,`).map((word) => word.replace('--to=', '')).sort()).toEqual(['edl,chapters', 'edl,cutlog', 'edl,otio']);
    expect(ask('linecut convert --to edl,otio,cu')).toEqual(['edl,otio,cutlog']);
    expect(ask('linecut help con')).toEqual(['convert']);
    expect(ask('linecut completions ').sort()).toEqual(['bash', 'fish', 'zsh']);
    expect(ask('linecut convert two').sort()).toEqual(['two folders/', 'two words.csv']);
    expect(ask('linecut check --hel')).toEqual(['--help']);
  });

  it('are known to a zsh in which nothing has begun completions, by the line that --help shows', () => {
    const command = /source <\(linecut completions zsh\)/.exec(linecut('completions', '--help'))?.[0] ?? '';
    const script = `linecut() { ${[process.execPath, BIN].map((word) => `'${word}'`).join(' ')} "$@" }; ${command} && print -r -- "$_comps[linecut]"`;
    expect(shell('zsh', ['-f', '-c', script])).toBe('_linecut\n');
  });

  it('work in zsh, at its own prompt', () => {
    // zsh completes only on a terminal: its zpty module gives it one. The key pressed is Tab.
    const script = `
      zmodload zsh/zpty
      zpty shell zsh -f -i
      zpty -w shell "PS1='> '; autoload -Uz compinit; compinit -u -d ${mkdtempSync(join(folder, 'zsh-'))}/dump; source ./zsh; clear"
      sleep 1.5
      zpty -w -n shell $'linecut convert --rounding c\\t'
      sleep 1
      zpty -w -n shell $' --chapters-a\\t'
      sleep 1
      zpty -w -n shell $'\\x15linecut help compa\\t'
      sleep 1
      zpty -w -n shell $'\\x15linecut completions fi\\t'
      sleep 1
      zpty -w -n shell $'\\x15linecut convert --rounding=flo\\t'
      sleep 1
      zpty -w -n shell $'\\x15linecut convert --to edl,cha\\t'
      sleep 1
      zpty -r -m shell text '*edl,cha*pters*' && print -r -- "$text"
      zpty -d shell`;
    const screen = shell('zsh', ['-f', '-c', script]);
    expect(screen).toContain('ceil');
    expect(screen).toContain('--chapters-as');
    expect(screen).toMatch(/help compa\W*re/);
    expect(screen).toMatch(/completions fi\W*sh/);
    expect(screen).toMatch(/--rounding=flo\W*or/);
    expect(screen).toMatch(/--to edl,cha\W*pters/);
  });
});

describe('the man page', () => {
  it('is formatted without a warning, and names every option of convert', () => {
    writeFileSync(join(folder, 'linecut.1'), linecut('manual'));
    const run = spawnSync('man', ['--warnings', '-l', 'linecut.1'], { encoding: 'utf8', cwd: folder, env: { ...process.env, MANWIDTH: '200', LC_ALL: 'C.UTF-8', MANPAGER: 'cat' } });
    expect([run.status, run.stderr]).toEqual([0, '']);
    for (const option of linecut('convert', '--help').match(/--(?!help)[a-z-]+/g) ?? []) expect(run.stdout).toContain(option);
  });
});
