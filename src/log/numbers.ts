/** Numbers as people and machines write them: `251.43`, `251,43`, `1.234,5`, `1,234.5`, `1 234,5`, `1'234.5`. */
import { fault, type Fault } from '../problems.js';

export type DecimalSign = '.' | ',';

const PLAIN = /^[+-]?\d*(?:\.\d*)?$/;
/** Whole part in groups of three, then decimals: `1.234.567,8`. */
const GROUPED = /^([+-]?\d{1,3}(?:([.,'\u2019 \u00a0\u202f])\d{3}(?:\2\d{3})*))(?:([.,])(\d*))?$/;
const COMMA = /^([+-]?\d*),(\d*)$/;

/** A comma or point that may be the decimal sign or part thousands. */
const UNCLEAR = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;

/** True for texts that may be a number in somebody's habit. */
export const looksNumeric = (text: string): boolean => /^[+-]?[.,]?\d[\d.,'\u2019 \u00a0\u202f]*$/.test(text);

/**
 * What a number's form says of its decimal sign: the sign; `unclear` when it has a comma or a point that may be decimal or may
 * part thousands (`1,234`); undefined when it says nothing (`1234`).
 */
function decimalSignOf(text: string): DecimalSign | 'unclear' | undefined {
  const dots = text.split('.').length - 1;
  const commas = text.split(',').length - 1;
  if (dots > 0 && commas > 0) return text.lastIndexOf(',') > text.lastIndexOf('.') ? ',' : '.';
  if (dots > 1) return ',';
  if (commas > 1) return '.';
  if (dots + commas === 0) return undefined;
  if (UNCLEAR.test(text)) return 'unclear';
  return commas === 1 ? ',' : '.';
}

/**
 * The sign that a log's numbers agree on; `.` where none says anything; undefined where all that say something are unclear. `1.234` is
 * unclear only where `groups` are likelier than thousandths, as in frames; else it is read with a decimal point unless others show that
 * the comma is the sign.
 */
export function commonSign(texts: Iterable<string>, groups = false): DecimalSign | undefined {
  let unclear = false;
  for (const text of texts) {
    const sign = decimalSignOf(text);
    if (sign === 'unclear') unclear ||= groups || text.includes(',');
    else if (sign !== undefined) return sign;
  }
  return unclear ? undefined : '.';
}

/**
 * A number's digits with a point and without groups, as `parseDecimal` takes them. `sign` undefined: not known, so a
 * comma or a point is a fault where it may be either. Faults: `bad-time` (the caller gives its own code where it is another field).
 */
export function plainNumber(text: string, sign: DecimalSign | undefined): string | Fault {
  if (sign !== ',' && PLAIN.test(text) && (sign === '.' || !UNCLEAR.test(text))) return text;
  const grouped = GROUPED.exec(text);
  if (grouped !== null) {
    const [, whole = '', group = '', mark, decimals = ''] = grouped;
    const groupIs = mark === undefined && (group === '.' || group === ',');
    if (groupIs && sign === undefined) return fault('bad-time', `'${text}' can be a decimal or thousands; say "decimal" in a mapping`);
    // `1.234` where the point is the decimal sign was plain; `1,234` where the comma is: the group is the decimals.
    if (groupIs && group === sign && whole.split(group).length === 2) return text.replace(group, '.');
    if (group !== sign && mark !== group && (mark === undefined || mark === (sign ?? mark))) {
      return whole.replaceAll(group, '') + (mark === undefined ? '' : `.${decimals}`);
    }
    return wrongSign(text, sign);
  }
  const comma = COMMA.exec(text);
  if (comma !== null && sign !== '.') return `${comma[1] ?? ''}.${comma[2] ?? ''}`;
  if (sign === ',' && /^[+-]?\d+$/.test(text)) return text;
  return looksNumeric(text) ? wrongSign(text, sign) : fault('bad-time', `'${text.slice(0, 40)}' is not a number`);
}

const wrongSign = (text: string, sign: DecimalSign | undefined): Fault =>
  fault('bad-time', `'${text.slice(0, 40)}' is not a number with '${sign ?? '.'}' before the decimals`);
