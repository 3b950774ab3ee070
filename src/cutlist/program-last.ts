/** The order of a list's sources. */
import { PROGRAM, type Source } from './model.js';

/** The sources in their order, the program recording last. */
export const programLast = (sources: readonly Source[]): Source[] => [...sources.filter(({ id }) => id !== PROGRAM), ...sources.filter(({ id }) => id === PROGRAM)];
