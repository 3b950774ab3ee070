/**
 * luxon, loaded when a log needs it and never before: most runs have no clock times, and none of them should wait for it.
 * Reading a log is not asynchronous, so that this is the one step that whoever reads logs takes first.
 */
import type * as LuxonModule from 'luxon';

type Luxon = typeof LuxonModule;

let loaded: Luxon | undefined;

/** What in a mapping asks for luxon: formats and zones. ISO 8601 without a zone is read without it. */
export interface ClockNeeds {
  readonly clockFormat?: string;
  readonly zone?: string;
}

/** Gets ready for the clock times of a mapping. Costs nothing where it has neither `clockFormat` nor `zone`. */
export async function loadClock(needs: ClockNeeds | undefined): Promise<void> {
  if (isNeeded(needs)) loaded ??= await import('luxon');
}

const isNeeded = (needs: ClockNeeds | undefined): boolean => needs?.clockFormat !== undefined || needs?.zone !== undefined;

/** @internal Whether clock times of a mapping can be read now. */
export const isClockReady = (needs: ClockNeeds | undefined): boolean => loaded !== undefined || !isNeeded(needs);

/** @internal luxon itself. Throws when `loadClock` was not awaited before: a fault of the program, never of its input. */
export function luxon(): Luxon {
  if (loaded === undefined) throw new Error('await loadClock(mapping) before reading a log with clockFormat or zone');
  return loaded;
}
