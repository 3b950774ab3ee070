/** The signals that end a run: Ctrl-C, a job engine's, a terminal that was closed. */

/** With their numbers (POSIX, signal.h); a run that one of them ended has the exit status 128 + that (POSIX shells' common practice). */
const NUMBERS = { SIGHUP: 1, SIGINT: 2, SIGTERM: 15 } as const;

export type EndingSignal = keyof typeof NUMBERS;

export const statusAfter = (signal: EndingSignal): number => 128 + NUMBERS[signal];

/** Tells of the first signal of each kind, instead of ending the process; gives back what undoes that. */
export function onEndingSignal(tell: (signal: EndingSignal) => void): () => void {
  const undo = (Object.keys(NUMBERS) as EndingSignal[]).map((signal) => {
    const listener = (): void => { tell(signal); };
    process.once(signal, listener);
    return () => { process.off(signal, listener); };
  });
  return () => { for (const one of undo) one(); };
}
