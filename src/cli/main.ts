/** The process: real streams, real exit status. */
import { processIo } from './io.js';
import { run } from './program.js';

/** Runs the command line of this process; the exit status is set, not forced, so that streams end by themselves. */
export async function main(argv: readonly string[]): Promise<void> {
  process.exitCode = await run(argv, processIo());
}
