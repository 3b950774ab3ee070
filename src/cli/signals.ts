/** The signals that end a run: Ctrl-C, a job engine's, a terminal that was closed. */

/** With their numbers (POSIX, signal.h); a run that one of them ended has the exit status 128 + that (POSIX shells' common practice). */
const NUMBERS = { SIGHUP: 1, SIGINT: 2, SIGTERM: 15 } as const;

export type EndingSignal = keyof typeof NUMBERS;

const SIGNALS = Object.keys(NUMBERS) as readonly EndingSignal[];

export const statusAfter = (signal: EndingSignal): number => 128 + NUMBERS[signal];

let terminalIsGone = false;

/** Tells of each such signal, instead of ending the process; gives back what undoes that. */
export function onEndingSignal(tell: (signal: EndingSignal) => void): () => void {
  const undo = SIGNALS.map((signal) => {
    const listener = (): void => {
      terminalIsGone ||= signal === 'SIGHUP';
      tell(signal);
    };
    process.on(signal, listener);
    return () => { process.off(signal, listener); };
  });
  return () => { for (const one of undo) one(); };
}

/** Ends the process here and now as the signal does that nobody listens to. */
export function dieOf(signal: EndingSignal): void {
  process.removeAllListeners(signal);
  process.kill(process.pid, signal);
}

/**
 * Where the terminal was closed under a run, ends the process by that signal, with the status of `statusAfter`: Node, which would see to
 * the terminal once more at its exit, crashes there.
 */
export function dieWithTerminal(): void {
  if (terminalIsGone) dieOf('SIGHUP');
}
