// What esbuild makes of the sources: a script with what a usual run needs, one with the rest, and a script each for the larger
// libraries. The last two are loaded when something of theirs is first called.
import { build } from 'esbuild';
import { runInThisContext } from 'node:vm';
import { createRequire } from 'node:module';
import { dirname, relative, resolve } from 'node:path';
import { readFile } from 'node:fs/promises';
import { partsOf, SELDOM, USUAL } from './parts.mjs';

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

/** Libraries that most runs never call: a script each, loaded when one of their functions is first used. */
const LIBRARIES = ['commander', 'luxon', 'fast-xml-parser', 'xmlbuilder2', 'csv-parse/sync'];

/** Dependencies of the package, which are installed with it; loaded when they are first used, too. */
const INSTALLED = ['mediainfo.js', 'chokidar'];

const libraries = {
  name: 'libraries',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /./, namespace: 'library' }, ({ path }) => ({ path, external: true }));
    onResolve({ filter: /^[a-z]/ }, ({ path }) => ([...LIBRARIES, ...INSTALLED].includes(path) ? { path, namespace: 'library' } : undefined));
    onLoad({ filter: /./, namespace: 'library' }, async ({ path }) => ({ contents: await standIn(path) }));
  },
};

const libraryFile = (name) => `lib/${name.replaceAll('/', '-')}.cjs`;

/**
 * A module with the names that a library exports. Behind each stands the library's own function, class or object, which is loaded
 * when it is first called, constructed, extended or looked into; `instanceof` works too.
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
  const it = new Proxy(function () {}, {
    get: (_, key) => real()[key],
    has: (_, key) => key in real(),
    apply: (_, self, args) => Reflect.apply(real(), self, args),
    construct: (_, args, made) => Reflect.construct(real(), args, made === it ? real() : made),
  });
  return it;
};
${names.map((one) => (one === 'default' ? `export default part('default');` : `export const ${one} = /* @__PURE__ */ part('${one}');`)).join('\n')}
`;
}

/** A file that a source imports, as its path in the project. */
const sourceFile = (folder, path) => relative(process.cwd(), resolve(folder, path)).replaceAll('\\', '/').replace(/\.js$/, '.ts');

/** Puts what `contents` gives for a source file in its place, wherever that is not undefined. */
const instead = (contents) => ({
  name: 'instead',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^\.\.?\// }, ({ path, resolveDir }) => {
      const file = sourceFile(resolveDir, path);
      return contents(file) === undefined ? undefined : { path: file, namespace: 'instead' };
    });
    onLoad({ filter: /./, namespace: 'instead' }, ({ path }) => ({ contents: contents(path), resolveDir: process.cwd() }));
  },
});

const table = (name, paths) => `export const ${name} = {\n${paths.map((path) => `  '${path}': () => require('./${path}'),`).join('\n')}\n};\n`;

const script = (name, contents, version, ...plugins) =>
  build({
    ...options,
    stdin: { contents, resolveDir: process.cwd(), sourcefile: `${name}.js` },
    entryNames: `${name}-[hash]`,
    outdir: '.',
    outExtension: { '.js': '.cjs' },
    external: ['any-ascii'],
    define: { ...options.define, LINECUT_VERSION: JSON.stringify(version) },
    // A function, as Node makes one of every CommonJS file: start.cjs calls it, and gives it the way to modules of the other script.
    banner: { js: `(function(exports,require,module,__filename,__dirname,linecutPart){${options.banner.js}` },
    footer: { js: '})' },
    plugins: [...plugins, libraries],
  });

/** Whether a value can be called through another function: a class or a constant cannot. */
const isFunction = (value) => typeof value === 'function' && !String(value).startsWith('class');

/** The names that modules export, by file: asked of the modules themselves. An error where one is not as `fits` wants it. */
async function namesOf(paths, version, fits = () => true) {
  const { outputFiles: [{ text, path }] } = await script('names', table('modules', paths), version);
  const module = { exports: {} };
  runInThisContext(text).call(module.exports, module.exports, createRequire(path), module, path, process.cwd());
  return new Map(Object.entries(module.exports.modules).map(([file, load]) => {
    const wrong = Object.entries(load()).find(([, value]) => !fits(value));
    if (wrong !== undefined) throw new Error(`${file} exports ${wrong[0]}, which is no function: it cannot be in scripts/parts.mjs' SELDOM`);
    return [file, Object.keys(load())];
  }));
}

/** A module whose functions are in the other script, which is loaded when one of them is first called. */
const forwarded = (file, names) =>
  ['let module;', ...names.map((name) => `export const ${name} = (...given) => (module ??= linecutPart.later('${file}')).${name}(...given);`)].join('\n');

/**
 * The first script's own module. It hands modules to the rest name by name, when the rest is first asked for: module objects
 * would have to be made in every run.
 */
const roof = (names) => [
  "export { main, run } from './src/cli/main.js';",
  ...[...names].map(([file, exported], index) => `import { ${exported.map((name) => `${name} as ${name}_${index}`).join(', ')} } from './${file}';`),
  'const modules = () => ({',
  ...[...names].map(([file, exported], index) => `  '${file}': { ${exported.map((name) => `${name}: ${name}_${index}`).join(', ')} },`),
  '});',
  'let made;',
  'export const shared = (file) => (made ??= modules())[file];',
].join('\n');

/**
 * What a usual run imports on its way becomes an import like any other: modules that may be evaluated later have to be wrapped, each
 * with everything below it, and unwrapping two hundred of them takes time.
 */
const atOnce = {
  name: 'at once',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]src[\\/].*\.ts$/ }, async ({ path }) => {
      const before = [];
      const text = (await readFile(path, 'utf8')).replaceAll(/\bimport\('(\.[^']+)'\)/g, (whole, to) => {
        if (!USUAL.has(sourceFile(dirname(path), to))) return whole;
        before.push(`import * as usual_${before.length} from '${to}';`);
        return `usual_${before.length - 1}`;
      });
      return { contents: `${before.join(' ')}${text}`, loader: 'ts' };
    });
  },
};

/** The files by name, the names of the two scripts, and the paths of all sources that went in. */
export async function bundle(version) {
  const { first, shared, later, entries } = await partsOf((contents) => script('all', contents, version));
  const names = await namesOf(shared, version);
  const seldom = await namesOf([...SELDOM], version, isFunction);
  const usual = await script('linecut', roof(names), version, instead((file) =>
    SELDOM.has(file) ? forwarded(file, seldom.get(file)) : later.has(file) ? `module.exports = linecutPart.later('${file}');` : undefined), atOnce);
  const rest = await script('rest', table('later', [...later, ...entries]), version, instead((file) =>
    first.has(file) ? `const module = linecutPart.shared('${file}');\nexport const ${names.get(file).map((name) => `${name} = module.${name}`).join(', ')};` : undefined));
  const made = [usual, rest];
  // Read as Latin-1, a character for a byte; what esbuild cannot write in ASCII (a regular expression) would be read as something else.
  for (const { text } of made.map(({ outputFiles: [one] }) => one)) {
    const found = /.{0,40}[^\0-\x7f].{0,40}/.exec(text)?.[0];
    if (found !== undefined) throw new Error(`write this with \\u in the source: ${found}`);
  }
  for (const name of LIBRARIES) {
    made.push(await build({ ...options, stdin: { contents: `export * from '${name}'`, resolveDir: process.cwd() }, outfile: libraryFile(name), external: ['node:*'] }));
  }
  const files = new Map(made.flatMap(({ outputFiles }) => outputFiles.map(({ path, text }) => [relative(process.cwd(), path).replaceAll('\\', '/'), text])));
  return { files, inputs: made.flatMap(({ metafile }) => Object.keys(metafile.inputs)) };
}
