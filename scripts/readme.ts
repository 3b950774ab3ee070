/**
 * Fills the parts of README.md that are made from the sources: each stands between `<!-- begin NAME -->` and
 * `<!-- end NAME -->`. `npm run generate` writes them; a test sees to it that they are current.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { helpText, type Command } from '../src/cli/command.js';
import { COMMANDS } from '../src/cli/program.js';
import { convertLog } from '../src/convert.js';
import { CATALOGUE, ProblemList, problemLine } from '../src/problems.js';
import { readShowFile } from '../src/show/read.js';

export const README = fileURLToPath(new URL('../README.md', import.meta.url));

const LOG = `time,action,source,duration,end,note
10:00:00;00,start,,,,
10:00:00;00,cut,1,,,
10:00:10;00,dissolve,2,30,,
10:00:12;00,marker,,,,The stock comes to the boil
10:00:15;00,cue,3,,,
10:00:15;20,cut,,,,
10:00:21;04,dissolve,1,,10:00:22;00,
10:00:30;00,stop,,,,
`;

const SHOW = `{
  "title": "Harbour Kitchen 14",
  "rate": "29.97df",
  "sources": [
    { "id": "1", "name": "Stage wide", "reel": "WIDE" },
    { "id": "2", "name": "Close-up", "reel": "CLOSE", "offset": 2 },
    { "id": "3", "name": "Overhead" }
  ]
}
`;

async function example(): Promise<string> {
  const found = new ProblemList();
  const show = readShowFile(SHOW, 'kitchen.show.json', found.add);
  if (show === undefined) throw new Error(found.problems.map(problemLine).join('\n'));
  const input = { name: 'kitchen.csv', bytes: LOG, title: 'kitchen', show: { file: 'kitchen.show.json', show } };
  const [made] = await convertLog(input, { to: ['edl', 'chapters'], otio: { base: '/' }, edl: { newline: 'lf' } }, found.add);
  const [edl, chapters] = (made?.outputs ?? []).map(({ chunks }) => [...chunks].join(''));
  if (edl === undefined || chapters === undefined) throw new Error(found.problems.map(problemLine).join('\n'));
  return [
    '`kitchen.csv`:', fenced('csv', LOG), '`kitchen.show.json`, beside it:', fenced('json', SHOW),
    '`linecut convert kitchen.csv` writes `kitchen.edl`:', fenced('', edl), '`kitchen.chapters.txt`:', fenced('', chapters), 'and `kitchen.otio`, which says the same.',
  ].join('\n\n');
}

const fenced = (language: string, text: string): string => `\`\`\`${language}\n${text.trimEnd()}\n\`\`\``;

const cell = (text: string): string => text.replaceAll('|', '\\|').replaceAll('<', '&lt;');

function optionTable(command: Command): string {
  const groups = new Map<string, string[]>();
  for (const option of command.options) {
    const { name, short, value, group } = option;
    const flags = `${short === undefined ? '' : `-${short}, `}--${name}${value === undefined ? '' : ` ${value}`}`;
    groups.set(group, [...(groups.get(group) ?? []), `| \`${flags}\` | ${cell(helpText(option))} |`]);
  }
  const tables = [...groups].map(([group, rows]) => [`| ${group} | |`, '| --- | --- |', ...rows].join('\n'));
  const args = command.args.map(({ name, many, optional }) => `${optional === true ? '[' : ''}${name}${many === true ? '…' : ''}${optional === true ? ']' : ''}`);
  return [`### ${['linecut', command.name, ...args].join(' ')}`, command.description, ...tables].join('\n\n');
}

async function options(): Promise<string> {
  const commands: Command[] = [];
  for (const { load } of COMMANDS) commands.push(await load());
  return commands.map(optionTable).join('\n\n');
}

const problems = (): string => [
  '| code | usually | what it means | what to do |',
  '| --- | --- | --- | --- |',
  ...Object.entries(CATALOGUE).map(([code, { severity, meaning, advice }]) => `| \`${code}\` | ${severity} | ${cell(meaning)} | ${cell(advice)} |`),
].join('\n');

/** README.md with its generated parts made anew. Throws when a part has no place. */
export async function freshReadme(text: string): Promise<string> {
  let fresh = text;
  for (const [name, content] of [['example', await example()], ['options', await options()], ['problems', problems()]] as const) {
    const [begin, end] = [`<!-- begin ${name} -->\n`, `\n<!-- end ${name} -->`];
    const [from, to] = [fresh.indexOf(begin), fresh.indexOf(end)];
    if (from === -1 || to < from) throw new Error(`README.md has no place for '${name}'`);
    fresh = `${fresh.slice(0, from)}${begin}${content}${fresh.slice(to)}`;
  }
  return fresh;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(README, await freshReadme(readFileSync(README, 'utf8')));
