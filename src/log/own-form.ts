/** A cutlog says itself how it is read: what a show file says of the log that it was made of is not for it. */
import { roughText, withoutMark } from '../byte-order-mark.js';
import { isFault } from '../problems.js';
import { parseRate } from '../timecode/rate.js';
import type { Mapping } from './mapping.js';

/** So far the outermost element is looked for. */
const HEAD = 65_536;

const CUTLOG = /^<cutlog((?:\s+[^\s=<>"']+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*)\s*\/?>/;

/**
 * How a log is read where no mapping was given for it: as `log` of the show file says, unless it is a cutlog that says its rate and
 * kind of time. Its words, labels and encoding are linecut's own, and applied to them the same mapping would change them once more: a
 * `rate` that halves labels most of all. That one key is kept where the cutlog itself counts at that rate.
 */
export function showMapping(log: Uint8Array | string, mapping: Mapping | undefined): Mapping | undefined {
  const own = mapping === undefined ? undefined : ownRate(headOf(log));
  if (own === undefined) return mapping;
  const { rate, ...others } = mapping ?? {};
  if (rate === undefined || !isSameRate(own, rate)) return undefined;
  return Object.keys(others).length === 0 ? mapping : { rate };
}

function isSameRate(one: string, other: string): boolean {
  const [a, b] = [parseRate(one), parseRate(other)];
  return !isFault(a) && !isFault(b) && a.rate === b.rate;
}

/** The rate that a cutlog says for itself, where it says its kind of time too; undefined for any other log. */
function ownRate(head: string): string | undefined {
  const attributes = CUTLOG.exec(withoutProlog(head))?.[1];
  if (attributes === undefined || attribute(attributes, 'timeAs') === undefined) return undefined;
  return attribute(attributes, 'rate');
}

/** What follows the declaration, comments and processing instructions. */
function withoutProlog(head: string): string {
  let rest = head.trimStart();
  for (;;) {
    const close = rest.startsWith('<?') ? '?>' : rest.startsWith('<!--') ? '-->' : undefined;
    if (close === undefined) return rest;
    const end = rest.indexOf(close, 2);
    if (end === -1) return '';
    rest = rest.slice(end + close.length).trimStart();
  }
}

function attribute(attributes: string, name: string): string | undefined {
  const all = attributes.matchAll(/([^\s=<>"']+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g);
  for (const [, key, double, single] of all) if (key === name) return (double ?? single ?? '').trim() || undefined;
  return undefined;
}

/** The beginning as text: names and rate are ASCII in all encodings but UTF-16, which has a mark. */
const headOf = (log: Uint8Array | string): string => (typeof log === 'string' ? withoutMark(log.slice(0, HEAD)) : roughText(log.subarray(0, HEAD)));
