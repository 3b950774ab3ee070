/**
 * linecut as a library: the steps of the command line as functions, with their types. Frames are whole numbers, ranges
 * half-open; problems go to a `Report` and nothing is thrown for bad input. Those that take options look at them first (`library.ts`).
 */

// Problems
export * from './problems.js';

// Rates and timecode
export { RATES, rateOf, countName, secondsOf, unitsOf, convertFrames, hasDropFrame } from './timecode/rate.js';
export type { Rate, Count, RateSpec } from './timecode/rate.js';
export { formatTimecode, framesPerDay, countOf } from './timecode/timecode.js';
export { parseRate, parseTimecode, parseDuration } from './library.js';
export { loadClock } from './timecode/luxon.js';
export type { Rounding } from './timecode/exact.js';

// The cut list
export * from './cutlist/model.js';
export type { LogEvent, Action } from './cutlist/event.js';
export { listFaults } from './cutlist/validate.js';

// Step by step: a log → events → a cut list → recordings, rules, corrections
export { readLog, readMapping, readShowFile, readCorrections, readRules, buildCutLists, adjustList, applyCorrections } from './library.js';
export { explainLog } from './log/explain.js';
export type { LogOptions, LogReading } from './log/reading.js';
export type { Mapping, TimeKind } from './log/mapping.js';
export { showSources, plainSources } from './show/sources.js';
export type { ShowFile, ShowSource, ShowMedia } from './show/show.js';
export type { BuildOptions } from './cutlist/build.js';
export { placeOnRecordings } from './cutlist/place.js';
export type { AdjustOptions, SourceFrames } from './cutlist/adjust.js';
export type { Correction } from './corrections/model.js';
export { writeCorrections } from './corrections/write.js';

// Two lists, and files that have to be sound
export { compareLists } from './compare/compare.js';
export type { CompareOptions } from './compare/compare.js';
export { correctionsFor } from './compare/corrections.js';
export { carriedBy } from './compare/carried.js';
export type { Carried } from './compare/carried.js';
export { differenceLine } from './compare/difference.js';
export type { Difference, DifferenceKind, DifferenceSide } from './compare/difference.js';
export { checkFile } from './library.js';
export { isUnsound } from './check/check.js';
export type { Checked, CheckInput, CheckOptions } from './check/check.js';
export type { Finding, Rules } from './check/finding.js';
export { checkTogether } from './check/together.js';
export { junitReport } from './check/junit.js';

// Recordings: files → sources
export { readRecordings, findBelow, relocateSources } from './library.js';
export type { ReadOptions } from './media/read.js';
export type { Recording, Picture, Sound, Extent } from './media/recording.js';
export type { Placed } from './media/order.js';
export { groupRecordings } from './media/group.js';
export type { Group, Grouping } from './media/group.js';
export { showWith } from './media/showfile.js';
export type { ShowTarget } from './media/written.js';
export type { FindOptions, FoundMedia } from './media/find.js';

// Writers and readers
export { writeEdl, readEdl, readEdlParts, writeOtio, readOtio, chaptersOf, writeChapters } from './library.js';
export { FORMATS } from './formats/output.js';
export type { Format, Output } from './formats/output.js';
export type { EdlOptions } from './formats/edl/write.js';
export type { EdlPart } from './formats/edl/document.js';
export type { ParseOptions } from './formats/edl/parse.js';
export type { OtioOptions } from './formats/otio/write.js';
export type { ReadOtioOptions } from './formats/otio/read.js';
export type { Chapter, ChaptersFrom, ChaptersWanted } from './formats/chapters/chapters.js';
export type { ChapterForm } from './formats/chapters/forms.js';
export type { ChapterOptions } from './formats/chapters/write.js';
export { writeCutlog } from './formats/cutlog/write.js';
export type { Cutlog } from './formats/cutlog/write.js';

// All of it in one call
export { formOf } from './formats/form.js';
export type { Form } from './formats/form.js';
export { loadList, loadLists, convertLog } from './library.js';
export type { LoadInput, Loaded, LoadOptions } from './load.js';
export type { Converted, ConvertOptions } from './convert.js';
