/** Somebody's text in a line of ours. */

/** C0 with line ends and tabs, DEL, C1; the Unicode line ends; and what turns the direction of text: embeddings, overrides, isolates (UAX #9). */
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g;

/**
 * `text` with every control character shown as U+FFFD: names and cells may hold anything, and a terminal would obey an escape, and
 * take what follows a line end for a line of ours. The length stays, so that columns stay in line.
 */
export const visible = (text: string): string => text.replace(CONTROL, '\uFFFD');

/** At most 40 characters of `text`, for a message; an ellipsis where something was left out. */
export const shorten = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}\u2026` : text);

/** At most `most` words, and how many more there are. */
export const listOf = (words: readonly string[], most = 12): string =>
  words.length > most ? `${words.slice(0, most).join(', ')} and ${String(words.length - most)} more` : words.join(', ');
