/** Which rate a log's frames have, and how its labels count. */
import { isFault, problem, problemOf, type Report } from '../problems.js';
import { framesPerLabel, hasDropFrame, noRate, parseRate, rateText, type Count, type RateSpec } from '../timecode/rate.js';
import { countOf } from '../timecode/timecode.js';
import { KIND_NAMES } from './kinds.js';
import type { TimeKind } from './mapping.js';
import type { Marks } from './time.js';

/** The list's rate, and the rate that was said for labels apart from it: by `--log-rate`, or by a mapping. */
export interface SaidRates {
  readonly list: RateSpec;
  readonly labels?: { readonly spec: RateSpec; readonly by: 'option' | 'mapping' };
}

export interface LogRates {
  /** The list's rate. */
  readonly list: RateSpec;
  /** How labels are read; ':' takes its `dropFrame`. */
  readonly label: Count;
  /** The rate that labels were said to count at, where it is said apart from the list's. */
  readonly labelRate?: string;
  /** Frames of the list a label: 2 where labels count frame pairs (ST 12-1). */
  readonly perLabel: 1 | 2;
}

export interface GivenRates {
  readonly file: string;
  /** Of the command line or the show file. */
  readonly rate?: RateSpec;
  readonly logRate?: RateSpec;
  /** What the log, and its mapping, say themselves. */
  readonly own?: string;
  readonly mapRate?: string;
}

/** Command line and show file > the log's own > the mapping's > a `bad-rate` error that lists the rates. */
export function resolveRates(given: GivenRates, report: Report): SaidRates | undefined {
  const place = { file: given.file };
  const read = (text: string | undefined): RateSpec | undefined | 'bad' => {
    if (text === undefined) return undefined;
    const spec = parseRate(text);
    if (!isFault(spec)) return spec;
    report(problemOf(spec, place));
    return 'bad';
  };
  const own = read(given.own);
  const logRate = given.logRate ?? read(given.mapRate);
  if (own === 'bad' || logRate === 'bad') return undefined;
  const list = given.rate ?? own ?? logRate;
  if (list === undefined) {
    report(problemOf(noRate(), place));
    return undefined;
  }
  const by = own !== undefined ? 'the log says' : given.logRate !== undefined ? '--log-rate says' : 'the mapping says';
  if (given.rate === undefined) report(problem('found', `the rate is ${rateText(list)}, as ${by}; say --rate otherwise`, place));
  else if (own !== undefined && own.rate !== given.rate.rate) {
    report(problem('found', `the log says ${rateText(own)}, and its times are read at ${rateText(list)} as given; where its labels count frame pairs, say --log-rate`, place, 'warning'));
  }
  if (logRate === undefined) return { list };
  return { list, labels: { spec: logRate, by: given.logRate === undefined ? 'mapping' : 'option' } };
}

/**
 * How the labels of a log count, once the kind of its times is known: at the list's rate, or at half of it; any other is a `bad-rate`
 * error. Where its times are none (nor tied to one by an anchor), their rate is not used for them, which is said.
 */
export function labelRates({ list, labels }: SaidRates, kind: TimeKind, isAnchored: boolean, file: string, report: Report): LogRates | undefined {
  const spec = labels?.spec ?? list;
  const perLabel = framesPerLabel(spec.rate, list.rate);
  const hasLabels = kind === 'timecode' || (kind === 'clock' && isAnchored);
  if (!hasLabels && labels !== undefined && spec !== list && (labels.by === 'option' || perLabel !== 1)) {
    const message = `${rateText(spec)} is a rate of labels, and the times of this log are ${KIND_NAMES[kind]}; it is not used for them`;
    report(labels.by === 'option' ? problem('bad-option', message, { option: '--log-rate' }, 'warning') : problem('found', message, { file }));
  } else if (hasLabels && perLabel === undefined) {
    report(problem('bad-rate', `labels at ${rateText(spec)} in a list at ${rateText(list)}: labels count at the list's rate, or at half of it`, { file }));
    return undefined;
  } else if (perLabel === 2) report(problem('found', `labels count frame pairs: each is two frames at ${list.rate.name}`, { file }));
  const { rate, dropFrame } = perLabel === undefined ? list : spec;
  return {
    list,
    label: countOf(rate, dropFrame ?? list.dropFrame ?? false),
    perLabel: perLabel ?? 1,
    ...(labels === undefined ? {} : { labelRate: rateText(labels.spec) }),
  };
}

/** The count that is written: what the rate says, else drop-frame where the log's labels are; a note says which. */
export function writtenCount(rates: LogRates, marks: Marks, file: string, report: Report): Count {
  const { rate, dropFrame } = rates.list;
  const [drop, plain] = rates.label.dropFrame ? [marks.drop + marks.plain, 0] : [marks.drop, marks.plain];
  const labelsDrop = drop > plain;
  if (dropFrame !== undefined || !hasDropFrame(rate)) return countOf(rate, dropFrame ?? false);
  const why = labelsDrop ? "as the log's labels are" : plain > 0 ? "as the log's labels are; say" : 'as nothing says otherwise; say';
  const other = labelsDrop ? `; say ${rate.name}ndf otherwise` : ` ${rate.name}df for drop-frame`;
  report(problem('found', `${rate.name} is written ${labelsDrop ? 'drop-frame' : 'non-drop'}, ${why}${other}`, { file }));
  return countOf(rate, labelsDrop);
}
