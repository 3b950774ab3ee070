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
  // Modules ask where they are; a script knows it by another name.
  define: { 'import.meta.url': 'linecut.url' },
  banner: { js: 'const linecut={get url(){return require("node:url").pathToFileURL(__filename).href}};' },
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

/** Libraries that most runs never call: a script each, loaded when one of their functions is first used. */
const LIBRARIES = ['luxon', 'tinyglobby', 'fast-xml-parser', 'xmlbuilder2', 'csv-parse/sync'];

/** Dependencies of the package, which are installed with it; loaded when they are first used, too. */
const INSTALLED = ['mediainfo.js', 'chokidar'];

/** Commander can start other programs; linecut never asks it to, and node:child_process costs a tenth of the start. */
const UNUSED_BY = { 'node:child_process': /[\\/]commander[\\/]/ };

const plugin = {
  name: 'linecut',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /./, namespace: 'library' }, ({ path }) => ({ path, external: true }));
    onResolve({ filter: /^[a-z]/ }, ({ path, importer }) => {
      if (UNUSED_BY[path]?.test(importer) === true) return { path, namespace: 'unused' };
      return [...LIBRARIES, ...INSTALLED].includes(path) ? { path, namespace: 'library' } : undefined;
    });
    onLoad({ filter: /./, namespace: 'unused' }, () => ({ contents: 'module.exports = {};' }));
    onLoad({ filter: /./, namespace: 'library' }, async ({ path }) => ({ contents: await standIn(path) }));
  },
};

const libraryFile = (name) => `lib/${name.replaceAll('/', '-')}.cjs`;

/**
 * A module with the names that a library exports. Behind each stands the library's own function, class or object, which is loaded
 * when it is first called, constructed or looked into; \`instanceof\` works too.
 */
async function standIn(name) {
  const names = Object.keys(await import(name)).filter((one) => /^\w+$/.test(one));
  const file = LIBRARIES.includes(name) ? `./${libraryFile(name)}` : name;
  return `
const part = (name) => {
  const real = () => {
    const library = require('${file}');
    return name === 'default' && library.default === undefined ? library : library[name];
  };
  return new Proxy(function () {}, {
    get: (_, key) => real()[key],
    has: (_, key) => key in real(),
    apply: (_, self, args) => Reflect.apply(real(), self, args),
    construct: (_, args) => Reflect.construct(real(), args),
  });
};
${names.map((one) => (one === 'default' ? `export default part('default');` : `export const ${one} = /* @__PURE__ */ part('${one}');`)).join('\n')}
`;
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
      external: ['any-ascii'],
      define: { ...options.define, LINECUT_VERSION: JSON.stringify(version) },
      // A function, as Node makes one of every CommonJS file: start.cjs calls it.
      banner: { js: `(function(exports,require,module,__filename,__dirname){${options.banner.js}` },
      footer: { js: '})' },
      plugins: [plugin],
    }),
  ];
  for (const name of LIBRARIES) {
    made.push(await build({ ...options, stdin: { contents: `export * from '${name}'`, resolveDir: process.cwd() }, outfile: libraryFile(name) }));
  }
  const files = new Map(made.flatMap(({ outputFiles }) => outputFiles.map(({ path, text }) => [path.slice(process.cwd().length + 1), text])));
  return { files, inputs: made.flatMap(({ metafile }) => Object.keys(metafile.inputs)) };
}
