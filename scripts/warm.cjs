// Run by the build after the bundle is written: does what users do most once, so that V8 has compiled what that needs, and
// keeps it beside each script. Prints the names that the library exports.
'use strict';
const { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } = require('node:fs');
const { tmpdir } = require('node:os');
const { join } = require('node:path');
const v8 = require('node:v8');

// A batch changes a flag of V8, and V8 takes what was compiled under the same flags only: here they stay as a run begins with them.
v8.setFlagsFromString = () => {};

const [start, ...caches] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'linecut-warm-'));
const linecut = require(start);
process.chdir(folder);

/** Keeps what is compiled by now of a script: `NAME=FILE`. */
function keep(cache) {
  const [name, file] = cache.split('=');
  writeFileSync(file, linecut.compiled(name));
}

async function warm() {
  cpSync(join(__dirname, '../fixtures/demo'), folder, { recursive: true });
  cpSync(join(folder, 'harbour-kitchen-14.csv'), join(folder, 'plain.csv'));
  const [usual, rest] = caches;
  await linecut.main(['convert', 'plain.csv', '--rate', '29.97df', '--audio', '1', '-o', 'a']);
  keep(usual);
  await linecut.main(['convert', 'harbour-kitchen-14.csv', '-o', 'b']);
  mkdirSync('shows');
  for (const name of ['shows/one.csv', 'shows/two.csv']) cpSync('plain.csv', name);
  await linecut.main(['convert', 'shows', '-o', 'c', '--rate', '29.97df', '--quiet']);
  await linecut.main(['check', 'b/harbour-kitchen-14.edl', 'b/harbour-kitchen-14.otio', '--quiet']);
  await linecut.main(['compare', 'b/harbour-kitchen-14.edl', 'b/harbour-kitchen-14.otio']);
  if (process.exitCode !== 0) process.stderr.write('warning: the demo show does not convert, or its lists are not sound and alike\n');
  process.exitCode = 0;
  keep(rest);
  process.stdout.write(`\n${Object.keys(linecut.library()).join(' ')}\n`);
}

warm().finally(() => {
  process.chdir(tmpdir());
  rmSync(folder, { recursive: true, force: true });
});
