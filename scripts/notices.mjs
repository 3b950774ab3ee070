// The licences of the libraries whose code is bundled into dist/, as one text to ship with it.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** `inputs` are the paths of every bundled file, relative to the package. */
export function notices(inputs) {
  const packages = new Set();
  for (const input of inputs) {
    const at = input.lastIndexOf('node_modules/');
    if (at === -1) continue;
    const [scope, name] = input.slice(at + 'node_modules/'.length).split('/');
    packages.add(input.slice(0, at + 'node_modules/'.length) + (scope.startsWith('@') ? `${scope}/${name}` : scope));
  }
  const parts = [...packages].sort().map((folder) => {
    const about = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
    const text = file === undefined ? withoutText(about) : readFileSync(join(folder, file), 'utf8');
    return `${about.name} ${about.version} (${about.license})\n\n${text.trim().replaceAll('\r\n', '\n')}\n`;
  });
  return `linecut contains code of the following libraries.\n\n${parts.join(`\n${'-'.repeat(72)}\n\n`)}`;
}

/** The text for a package that names its licence and ships no text of it: that of MIT is the one beside our own name. */
function withoutText({ name, license, author }) {
  if (license !== 'MIT') throw new Error(`${name} ships no licence text; say here what applies to it`);
  const holder = typeof author === 'string' ? author : author?.name;
  return readFileSync('LICENSE', 'utf8').replace(/Copyright .*/, `Copyright (c) ${holder ?? `the authors of ${name}`}`);
}
