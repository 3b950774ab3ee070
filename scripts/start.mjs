// The small files of dist/: they load the bundle, with the code that V8 compiled for it when it was built.

/**
 * Loads `linecut-HASH.cjs` at once, `rest-HASH.cjs` when something of it is asked for. Beside each may lie what V8 compiled of it
 * (`….cache`): a Node of the same version takes that and starts in half the time, any other compiles for itself. The
 * hash keeps the two together.
 */
export const startScript = (usual, rest) => `'use strict';
const { readFileSync } = require('node:fs');
const { Script } = require('node:vm');
const scripts = {};
let rest;
const later = (path) => (rest ??= load('${rest}').later)[path]();
const shared = (path) => usual.shared(path);
function load(name) {
  const file = __dirname + '/' + name;
  const source = readFileSync(file + '.cjs', 'latin1');
  let cachedData;
  try {
    cachedData = readFileSync(file + '.cache');
  } catch {
    cachedData = undefined;
  }
  // A name, not the file: what V8 compiled is the same wherever it lies.
  const script = new Script(source, { filename: name + '.cjs', cachedData });
  scripts[name] = script;
  const part = { exports: {} };
  script.runInThisContext().call(part.exports, part.exports, require, part, file + '.cjs', __dirname, { shared, later });
  return part.exports;
}
const usual = load('${usual}');
module.exports.main = usual.main;
module.exports.run = usual.run;
module.exports.library = () => later('src/index.ts');
module.exports.jobThread = () => later('src/cli/job-thread.ts');
module.exports.mediaThread = () => later('src/media/worker.ts');
module.exports.compiled = (name) => scripts[name].createCachedData();
`;

/** A module that hands on what a part of the bundle exports. */
export const partModule = (part, names) => `import { createRequire } from 'node:module';
const part = createRequire(import.meta.url)('./start.cjs').${part}();
export const { ${names.join(', ')} } = part;
`;

/** What a thread runs: CommonJS, which a thread begins sooner than a module. */
export const threadScript = (part) => `'use strict';
require('./start.cjs').${part}();
`;
