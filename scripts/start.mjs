// The small files of dist/: they load the bundle, with the code that V8 compiled for it when it was built.

/**
 * Loads `linecut-HASH.cjs`. Beside it may lie what V8 compiled of it (`linecut-HASH.cache`): a Node of the same version takes that
 * and starts in half the time, any other compiles for itself. The hash keeps the two together.
 */
export const startScript = (name) => `'use strict';
const { readFileSync } = require('node:fs');
const { join } = require('node:path');
const { Script } = require('node:vm');
const file = join(__dirname, '${name}.cjs');
const source = readFileSync(file, 'latin1');
let cachedData;
try {
  cachedData = readFileSync(join(__dirname, '${name}.cache'));
} catch {
  cachedData = undefined;
}
const script = new Script(source, {
  // A name, not the file: what V8 compiled is the same wherever it lies.
  filename: '${name}.cjs',
  cachedData,
});
script.runInThisContext().call(module.exports, module.exports, require, module, file, __dirname);
module.exports.compiled = () => script.createCachedData();
`;

/** A module that hands on what a part of the bundle exports. */
export const partModule = (part, names = []) => `import { createRequire } from 'node:module';
const part = createRequire(import.meta.url)('./start.cjs').${part}();
${names.length === 0 ? '' : `export const { ${names.join(', ')} } = part;\n`}`;
