/**
 * linecut as a library: the steps of the command line as functions, with their types. Frames are whole numbers, ranges
 * half-open; problems go to a `Report` and nothing is thrown for bad input.
 */

// Problems
export * from './problems.js';

// Rates and timecode
export { RATES, parseRate, rateOf, countName, secondsOf, unitsOf, convertFrames, hasDropFrame } from './timecode/rate.js';
export type { Rate, Count, RateSpec } from './timecode/rate.js';
export { parseTimecode, formatTimecode, framesPerDay, countOf } from './timecode/timecode.js';
export { parseDuration } from './timecode/duration.js';
export { loadClock } from './timecode/luxon.js';
export type { Rounding } from './timecode/exact.js';

// The cut list
export * from './cutlist/model.js';
export type { LogEvent, Action } from './cutlist/event.js';
export { listFaults } from './cutlist/validate.js';

// Step by step: a log → events → a cut list → recordings, rules, corrections
export { readLog } from './log/read.js';
export { explainLog } from './log/explain.js';
export type { LogOptions, LogReading } from './log/reading.js';
export { readMapping } from './log/mapping-file.js';
export type { Mapping, TimeKind } from './log/mapping.js';
export { readShowFile } from './show/read.js';
export { showSources, plainSources } from './show/sources.js';
export type { ShowFile, ShowSource, ShowMedia } from './show/show.js';
export { buildCutLists } from './cutlist/build.js';
export type { BuildOptions } from './cutlist/build.js';
export { placeOnRecordings } from './cutlist/place.js';
export { adjustList } from './cutlist/adjust.js';
export type { AdjustOptions, SourceFrames } from './cutlist/adjust.js';
export { readCorrections } from './corrections/read.js';
export { applyCorrections } from './corrections/apply.js';
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
export { checkFile, isUnsound } from './check/check.js';
export type { Checked, CheckInput, CheckOptions } from './check/check.js';
export type { Finding, Rules } from './check/finding.js';
export { checkTogether } from './check/together.js';
export { readRules } from './check/rules.js';
export { junitReport } from './check/junit.js';

// Recordings: files → sources
export { readRecordings } from './media/read.js';
export type { ReadOptions } from './media/read.js';
export type { Recording, Picture, Sound, Extent } from './media/recording.js';
export type { Placed } from './media/order.js';
export { groupRecordings } from './media/group.js';
export type { Group, Grouping } from './media/group.js';
export { showWith } from './media/showfile.js';
export type { ShowTarget } from './media/showfile.js';
export { findBelow } from './media/root.js';
export { relocateSources } from './media/find.js';
export type { FindOptions, FoundMedia } from './media/find.js';

// Writers and readers
export { FORMATS } from './formats/output.js';
export type { Format, Output } from './formats/output.js';
export { writeEdl } from './formats/edl/write.js';
export type { EdlOptions } from './formats/edl/write.js';
export { readEdl, readEdlParts } from './formats/edl/read.js';
export type { EdlPart } from './formats/edl/document.js';
export type { ParseOptions } from './formats/edl/parse.js';
export { writeOtio } from './formats/otio/write.js';
export type { OtioOptions } from './formats/otio/write.js';
export { readOtio } from './formats/otio/read.js';
export type { ReadOtioOptions } from './formats/otio/read.js';
export { chaptersOf } from './formats/chapters/chapters.js';
export type { Chapter, ChaptersFrom, ChaptersWanted } from './formats/chapters/chapters.js';
export { writeChapters } from './formats/chapters/write.js';
export type { ChapterForm } from './formats/chapters/forms.js';
export type { ChapterOptions } from './formats/chapters/write.js';
export { writeCutlog } from './formats/cutlog/write.js';
export type { Cutlog } from './formats/cutlog/write.js';

// All of it in one call
export { formOf } from './formats/form.js';
export type { Form } from './formats/form.js';
export { loadList, loadLists } from './load.js';
export type { LoadInput, Loaded, LoadOptions } from './load.js';
export { convertLog } from './convert.js';
export type { Converted, ConvertOptions } from './convert.js';
