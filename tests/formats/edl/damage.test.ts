import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { listFaults } from '../../../src/cutlist/validate.js';
import { readEdl, readEdlParts } from '../../../src/formats/edl/read.js';
import { CATALOGUE, type Problem } from '../../../src/problems.js';
import { COUNTS } from '../../support/lists.js';
import { comparable } from './comparable.js';
import { richList } from './lists.js';
import { written } from './small.js';

const runs = Number(process.env['LINECUT_RUNS'] ?? 200);

type Damage = { readonly at: number; readonly kind: 'drop line' | 'repeat line' | 'swap lines' | 'digit' | 'cut' | 'insert'; readonly text: string };

const damage: fc.Arbitrary<Damage> = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true }),
  kind: fc.constantFrom('drop line', 'repeat line', 'swap lines', 'digit', 'cut', 'insert'),
  text: fc.constantFrom('\n', ':', ';', '9', '0', ' ', '\t', 'V', 'AA/V', 'D', 'W', '*', '\u0000', 'é', 'AUD 1 2', 'M2 X 0 00:00:00:00', 'FCM: DROP FRAME'),
});

function damaged(text: string, { at, kind, text: extra }: Damage): string {
  const lines = text.split('\r\n');
  const line = Math.floor(at * lines.length);
  const place = Math.floor(at * text.length);
  switch (kind) {
    case 'drop line': lines.splice(line, 1); break;
    case 'repeat line': lines.splice(line, 0, lines[line] ?? ''); break;
    case 'swap lines': lines.splice(line, 2, ...lines.slice(line, line + 2).reverse()); break;
    case 'digit': return text.slice(0, place) + text.slice(place).replace(/\d/, (digit) => String((Number(digit) + 3) % 10));
    case 'cut': return text.slice(0, place) + text.slice(place + extra.length);
    case 'insert': return text.slice(0, place) + extra + text.slice(place);
  }
  return lines.join('\r\n');
}

function check(text: string, rate: (typeof COUNTS)[number] | undefined): void {
  const problems: Problem[] = [];
  const list = readEdl(text, { file: 'show.edl', ...(rate === undefined ? {} : { rate }) }, (problem) => problems.push(problem));
  const lines = text.split(/\r\n|\r|\n/);
  for (const { code, message, place } of problems) {
    expect(CATALOGUE).toHaveProperty(code);
    expect(message.length).toBeLessThan(400);
    if (place?.line === undefined) continue;
    expect(place.line).toBeLessThanOrEqual(lines.length);
    expect(place.column).toBeGreaterThan(0);
    expect(place.column).toBeLessThanOrEqual((lines[place.line - 1] ?? '').length + 1);
  }
  if (list === undefined) expect(problems.some(({ severity }) => severity === 'error')).toBe(true);
  else {
    expect(listFaults(list)).toEqual([]);
    // Whatever was read can be written, and read again.
    const texts = written(list).texts;
    const again = readEdlParts(texts.map((part) => ({ file: 'again.edl', text: part })), {}, () => undefined);
    if (texts.length > 0) expect(again === undefined ? undefined : comparable(again)).toEqual(comparable(list));
  }
}

describe('whatever is in the file, the reader gives a sound list, or an error', () => {
  it('of lists that were damaged', () => {
    fc.assert(
      fc.property(richList({ maxShots: 8 }), fc.array(damage, { minLength: 1, maxLength: 6 }), fc.constantFrom(undefined, ...COUNTS), (list, blows, rate) => {
        check(blows.reduce(damaged, written(list).texts.join('')), rate);
      }),
      { numRuns: runs },
    );
  });

  it('of a rate that is none, which is a comment, and does not hide the rate of what is written', () => {
    const text = [
      'TITLE: SOUP', 'FCM: NON-DROP FRAME',
      '001  WIDE     V     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00',
      '* RATE: 53.976', '',
    ].join('\r\n');
    for (const rate of COUNTS.filter(({ rate: { nominal } }) => nominal > 24)) check(text, rate);
  });

  it('of any text', () => {
    const word = fc.constantFrom('001', '002', ' ', '  ', '\n', '\r', 'V', 'B', 'AX', 'BL', 'C', 'D', 'W001', '030', '01:00:00:00', '01:00:01;00', '23:59:59:24', '00.00.00.00', '* ', 'FROM CLIP NAME: ', 'MARKER: 01:00:00:00 x', 'TITLE: ', 'FCM: NON-DROP FRAME', 'AUD 3', 'M2 AX 030.0 01:00:00:00', 'REEL AX: name=x', 'RATE: 25', 'CONTINUED', 'CHANNELS: 1');
    fc.assert(
      fc.property(fc.oneof(fc.array(word, { maxLength: 60 }).map((words) => words.join(' ')), fc.string({ unit: 'binary', maxLength: 300 })), fc.constantFrom(undefined, ...COUNTS), check),
      { numRuns: 2 * runs },
    );
  });
});

describe('two million characters meant to stall the reader', () => {
  const event = '001  WIDE     V     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00\n';
  const long = (text: string): string => text.repeat(Math.ceil(2_000_000 / text.length));
  it.each([
    ['spaces in the table of reels', `${event}* REEL A:${long(' ')}`],
    ['digits', event + long('1')],
    ['line ends', event + long('\n')],
    ['channels', `${event}AUD${long(' 1')}`],
    ['labels', `${event}2 ${long('1:1:1:1 ')}`],
    ['spaces in a clip name', `${event}* FROM CLIP NAME:${long(' ')}x`],
    ['words in a marker', `${event}* LOC: 01:00:00:00 ${long('a ')}`],
    ['words in a speed line', `${event}M2 ${long('a ')}`],
    ['escapes in a path', `${event}* SOURCE FILE: ${long('%C3%A9')}`],
    ['source channels', `${event}* CHANNELS: ${long('1 ')}x`],
    ['colons in an FCM line', `FCM${long(':')}\n${event}`],
    ['events on one frame', long(event)],
  ])('%s', (_, text) => {
    const list = readEdl(text, { file: 'show.edl', rate: { rate: (COUNTS[2] as (typeof COUNTS)[number]).rate, dropFrame: undefined } }, () => undefined);
    expect(list?.shots).toHaveLength(1);
  });
});
