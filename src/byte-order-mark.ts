/** The byte order mark at the start of a text: some programs put it before UTF-8, and it means nothing there (The Unicode Standard, 23.8; section from memory). */

const MARK = '\uFEFF';

/** Whether a text begins with it. */
export const startsWithMark = (text: string): boolean => text.startsWith(MARK);

/** The text without the mark; one in the middle of it stays. */
export const withoutMark = (text: string): string => (startsWithMark(text) ? text.slice(1) : text);
