// Builds dist/: linecut as two scripts, the larger libraries as one each, the small files that load them, the show file's schema,
// the licences of what is bundled, the man page. Types come from tsc (`npm run build`). How a run starts: bin/linecut.js → dist/start.cjs →
// dist/linecut-HASH.cjs, and for what is not usual dist/rest-HASH.cjs.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { Script } from 'node:vm';
import { bundle } from './scripts/bundle.mjs';
import { notices } from './scripts/notices.mjs';
import { shippedSchema } from './scripts/schemas.mjs';
import { partModule, startScript, threadScript } from './scripts/start.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));
const { files, inputs } = await bundle(version);
const [usual, rest] = ['linecut', 'rest'].map((name) => basename([...files.keys()].find((file) => file.startsWith(`${name}-`)), '.cjs'));
const kept = new Set([`${usual}.cache`, `${rest}.cache`]);

/** Whole, or the old one stays: whoever runs linecut meanwhile finds all of one build or all of the other. */
function put(name, text) {
  const path = join('dist', name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(`${path}.${process.pid}`, text);
  renameSync(`${path}.${process.pid}`, path);
  kept.add(name);
}

for (const [name, text] of files) put(name, text);
put('show.schema.json', shippedSchema());
put('THIRD-PARTY-NOTICES.txt', notices(inputs));

const trial = join('dist', `start-${process.pid}.cjs`);
writeFileSync(trial, startScript(usual, rest));
let names;
try {
  const caches = [usual, rest].map((name) => ({ name, file: resolve('dist', `${name}.cache`) }));
  for (const { file } of caches) rmSync(file, { force: true });
  const made = caches.map(({ name, file }) => `${name}=${file}.${process.pid}`);
  const said = execFileSync(process.execPath, ['scripts/warm.cjs', resolve(trial), ...made], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  names = said.trim().split('\n').at(-1).split(' ');
  for (const { name, file } of caches) {
    // V8 says nothing when it takes no cache: all would run, and begin in twice the time.
    const script = new Script(readFileSync(join('dist', `${name}.cjs`), 'latin1'), { filename: `${name}.cjs`, cachedData: readFileSync(`${file}.${process.pid}`) });
    if (script.cachedDataRejected === true) throw new Error(`V8 refuses what it compiled of ${name}.cjs: its flags were changed before that was kept`);
    renameSync(`${file}.${process.pid}`, file);
  }
} finally {
  rmSync(trial, { force: true });
}
put('start.cjs', startScript(usual, rest));
put('index.js', partModule('library', names));
put('job-thread.cjs', threadScript('jobThread'));
put('media-worker.cjs', threadScript('mediaThread'));
put('linecut.1', execFileSync(process.execPath, ['bin/linecut.js', 'manual'], { encoding: 'utf8' }));

for (const entry of readdirSync('dist', { recursive: true, withFileTypes: true })) {
  const path = join(entry.parentPath ?? entry.path, entry.name).slice('dist/'.length).replaceAll('\\', '/');
  if (entry.isFile() && !path.startsWith('types/') && !kept.has(path)) rmSync(join('dist', path), { force: true });
}
