/** How much is read unless a limit is given: far more than any show, and less than what would fill a machine. */

/** Rows of a log (`--max-rows`). */
export const MAX_ROWS = 2_000_000;

/** Bytes of a log (`--max-bytes`). */
export const MAX_BYTES = 512 * 1024 * 1024;
