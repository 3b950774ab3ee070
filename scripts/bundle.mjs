// What esbuild makes of the sources: one script for the command line, the library and its threads, and a script each for
// the larger libraries, which are loaded when they are first called.
import { build } from 'esbuild';

const options = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  mainFields: ['module', 'main'],
  minify: true,
  // Plain ASCII is read and compiled faster.
  charset: 'ascii',
  legalComments: 'none',
  logLevel: 'warning',
  metafile: true,
  write: false,
};

/** Every part of linecut under one roof. A part is evaluated when it is asked for. */
const ROOF = `
export const main = (argv) => import('./src/cli/main.js').then((part) => part.main(argv));
export const library = () => require('./src/index.js');
export const jobThread = () => require('./src/cli/job-thread.js');
export const mediaThread = () => require('./src/media/worker.js');
`;

/**
 * Libraries that most runs never call. \`false\`: imported where they are needed. A list: imported at the top of a file that every
 * run loads, so that these functions stand in for the library's own and load it when they are called (or constructed).
 */
const LIBRARIES = { luxon: false, tinyglobby: false, 'fast-xml-parser': ['XMLParser'], xmlbuilder2: ['create', 'createCB'] };

/** Commander can start other programs; linecut never asks it to, and node:child_process costs a tenth of the start. */
const UNUSED_BY = { 'node:child_process': /[\\/]commander[\\/]/ };

const plugin = {
  name: 'linecut',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^[a-z]/ }, ({ path, importer }) => {
      if (UNUSED_BY[path]?.test(importer) === true) return { path, namespace: 'unused' };
      return path in LIBRARIES ? { path, namespace: 'library' } : undefined;
    });
    onResolve({ filter: /^\.\/lib\//, namespace: 'library' }, ({ path }) => ({ path, external: true }));
    onLoad({ filter: /./, namespace: 'unused' }, () => ({ contents: 'module.exports = {};' }));
    onLoad({ filter: /./, namespace: 'library' }, ({ path }) => ({ contents: standIn(path, LIBRARIES[path]) }));
  },
};

function standIn(name, functions) {
  const load = `require('./lib/${name}.cjs')`;
  if (functions === false) return `module.exports = ${load};`;
  return functions.map((one) => `export function ${one}(...args) { const real = ${load}.${one}; return new.target === undefined ? real(...args) : new real(...args); }`).join('\n');
}

/** The files by name, and the paths of all sources that went in. */
export async function bundle(version) {
  const made = [
    await build({
      ...options,
      stdin: { contents: ROOF, resolveDir: process.cwd(), sourcefile: 'roof.js' },
      entryNames: 'linecut-[hash]',
      outdir: '.',
      outExtension: { '.js': '.cjs' },
      external: ['mediainfo.js', 'chokidar', 'any-ascii'],
      define: { LINECUT_VERSION: JSON.stringify(version), 'import.meta.url': 'linecutUrl' },
      banner: { js: 'const linecutUrl=require("node:url").pathToFileURL(__filename).href;' },
      plugins: [plugin],
    }),
  ];
  for (const name of Object.keys(LIBRARIES)) {
    made.push(await build({ ...options, stdin: { contents: `export * from '${name}'`, resolveDir: process.cwd() }, outfile: `lib/${name}.cjs` }));
  }
  const files = new Map(made.flatMap(({ outputFiles }) => outputFiles.map(({ path, text }) => [path.slice(process.cwd().length + 1), text])));
  return { files, inputs: made.flatMap(({ metafile }) => Object.keys(metafile.inputs)) };
}
