/** Corrections of what holds for the whole list, and of its sources. */
import { fault, isFault, type Fault } from '../problems.js';
import { countName } from '../timecode/rate.js';
import { parseCount, parseTimecode } from '../timecode/timecode.js';
import type { Correction } from './model.js';
import type { Edits } from './edits.js';
import type { CutList, Source } from '../cutlist/model.js';
import { NO_SOURCES } from '../cutlist/naming.js';
import { programLast } from '../cutlist/program-last.js';
import { recordLabel } from '../cutlist/record.js';

export type Facts = Pick<Edits, 'title' | 'recordStart' | 'count'>;

/** `facts` with a new title, rate or record start; a new rate has to come before a new record start, which is one of its labels. */
export function newFacts(list: CutList, { do: what, expect = '', to = '' }: Correction, facts: Facts): Facts | Fault {
  if (what === 'title') {
    if (expect.trim() !== list.title.trim()) return fault('correction-mismatch', `it expects the title '${expect}', and it is '${list.title}'`);
    return { ...facts, title: to };
  }
  if (what === 'rate') {
    if (expect.trim() !== countName(list.count)) return fault('correction-mismatch', `it expects the rate ${expect}, and it is ${countName(list.count)}`);
    const count = parseCount(to);
    return isFault(count) ? count : { ...facts, count };
  }
  const old = parseTimecode(expect, list.count);
  if (isFault(old)) return old;
  if (recordLabel(list, 0) !== recordLabel({ ...list, recordStart: old }, 0)) {
    return fault('correction-mismatch', `it expects the record start ${expect.trim()}, and it is ${recordLabel(list, 0)}`);
  }
  const recordStart = parseTimecode(to, facts.count ?? list.count);
  return isFault(recordStart) ? recordStart : { ...facts, recordStart };
}

/** The sources with one more; the program recording stays last. */
export function withNewSource(sources: readonly Source[], { source: word = '', name, reel, rate, file }: Correction, list: CutList): readonly Source[] | Fault {
  const id = word.trim();
  if (id === '' || NO_SOURCES.includes(id.toLowerCase())) return fault('bad-corrections', `'${id}' cannot be the id of a source`);
  if (sources.some((source) => source.id.toLowerCase() === id.toLowerCase())) return fault('correction-mismatch', `it expects that there is no source '${id}', and there is one`);
  const count = rate === undefined ? list.count : parseCount(rate);
  if (isFault(count)) return count;
  const added: Source = {
    id, name: name ?? id, aliases: [], picture: true, recorded: true, count, starts: [], offset: 0,
    files: file === undefined ? [] : [{ path: file }], ...(reel === undefined ? {} : { reel }),
  };
  return programLast([...sources, added]);
}

/** A source that counts at another rate. */
export function withNewRate(source: Source, { expect = '', to = '' }: Correction): Source | Fault {
  if (expect.trim() !== countName(source.count)) return fault('correction-mismatch', `it expects that '${source.id}' runs at ${expect}, and it runs at ${countName(source.count)}`);
  const count = parseCount(to);
  return isFault(count) ? count : { ...source, count };
}
