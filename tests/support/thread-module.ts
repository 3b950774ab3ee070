/** Modules for threads, made of TypeScript that threads do not load by themselves. */
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';

/** A module whose thread answers tasks with this function, given as text. */
export function threadOf(answer: string): URL {
  const built = buildSync({
    stdin: { contents: `import { answerAll } from './src/threads.ts';\nimport { threadId } from 'node:worker_threads';\nanswerAll(${answer});`, resolveDir: fileURLToPath(new URL('../..', import.meta.url)) },
    bundle: true,
    platform: 'node',
    format: 'esm',
    write: false,
  });
  return new URL(`data:text/javascript,${encodeURIComponent(built.outputFiles[0]?.text ?? '')}`);
}
