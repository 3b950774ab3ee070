// Run by the build after the bundle is written: converts the demo show once, so that V8 has compiled what a usual run needs, and
// keeps that. Prints the names that the library exports.
'use strict';
const { cpSync, mkdtempSync, rmSync, writeFileSync } = require('node:fs');
const { tmpdir } = require('node:os');
const { join } = require('node:path');

const [start, cache] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'linecut-warm-'));
const linecut = require(start);
process.chdir(folder);

async function warm() {
  cpSync(join(__dirname, '../fixtures/demo'), folder, { recursive: true });
  cpSync(join(folder, 'harbour-kitchen-14.csv'), join(folder, 'plain.csv'));
  await linecut.main(['convert', 'harbour-kitchen-14.csv', '-o', 'a']);
  await linecut.main(['convert', 'plain.csv', '--rate', '29.97df', '--audio', '1', '-o', 'b']);
  if (process.exitCode !== 0) process.stderr.write('warning: the demo show does not convert\n');
  process.exitCode = 0;
  writeFileSync(cache, linecut.compiled());
  process.stdout.write(`${Object.keys(linecut.library()).join(' ')}\n`);
}

warm().finally(() => {
  process.chdir(tmpdir());
  rmSync(folder, { recursive: true, force: true });
});
