// Builds dist/: the command line and the library as ES modules, with what they share in common chunks,
// so that a run loads only what it needs. Recordings (WebAssembly) and folder watching stay outside as
// ordinary dependencies.
import { build } from 'esbuild';
import { rmSync } from 'node:fs';

rmSync('dist', { recursive: true, force: true });
await build({
  entryPoints: { index: 'src/index.ts', cli: 'src/cli/main.ts' },
  outdir: 'dist',
  bundle: true,
  splitting: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  minifySyntax: true,
  minifyWhitespace: true,
  legalComments: 'linked',
  external: ['mediainfo.js', 'chokidar'],
  banner: { js: "import{createRequire as linecutRequire}from'node:module';const require=linecutRequire(import.meta.url);" },
  logLevel: 'warning',
});
