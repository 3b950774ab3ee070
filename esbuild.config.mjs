// Builds dist/: the command line and the library as ES modules, with what they share in common chunks, so that a run
// loads only what it needs; the show file's schema; the licences of what is bundled. Recordings (WebAssembly) and
// folder watching stay outside as ordinary dependencies. Types come from tsc (`npm run build`).
import { build } from 'esbuild';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { shippedSchema } from './scripts/schemas.mjs';
import { notices } from './scripts/notices.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

const result = await build({
  entryPoints: { index: 'src/index.ts', cli: 'src/cli/main.ts', 'media-worker': 'src/media/worker.ts', 'job-thread': 'src/cli/job-thread.ts' },
  outdir: 'dist',
  chunkNames: 'chunks/[name]-[hash]',
  bundle: true,
  splitting: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  mainFields: ['module', 'main'],
  minify: true,
  charset: 'utf8',
  legalComments: 'none',
  external: ['mediainfo.js', 'chokidar'],
  define: { LINECUT_VERSION: JSON.stringify(version) },
  banner: { js: "import{createRequire as linecutRequire}from'node:module';const require=linecutRequire(import.meta.url);" },
  logLevel: 'warning',
  metafile: true,
  write: false,
});

const files = new Map(result.outputFiles.map(({ path, contents }) => [path, contents]));
const put = (name, text) => files.set(join(process.cwd(), 'dist', name), text);
put('show.schema.json', shippedSchema());
put('THIRD-PARTY-NOTICES.txt', notices(Object.keys(result.metafile.inputs)));

// New files first, then the old ones go: whoever runs the command line meanwhile finds all of one build or the other.
for (const [path, contents] of files) {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, contents);
}
if (existsSync('dist')) {
  for (const entry of readdirSync('dist', { recursive: true, withFileTypes: true })) {
    const path = join(process.cwd(), entry.parentPath ?? entry.path, entry.name);
    const types = relative('dist', path).startsWith('types');
    if (entry.isFile() && !types && !files.has(path)) rmSync(path, { force: true });
  }
}
