/** The process: real streams, real exit status. `run` is for the tests of the packed program, which bring streams of their own. */
import { processIo } from './io.js';
import { run } from './program.js';
import { dieWithTerminal } from './signals.js';

export { run };

/** Runs the command line of this process and sets its exit status. When it is over, all is written: `sinkOf` waits for each piece. */
export async function main(argv: readonly string[]): Promise<void> {
  process.exitCode = await run(argv, processIo());
  dieWithTerminal();
}
