import { describe, expect, it } from 'vitest';
import { ACTIONS } from '../../src/cutlist/event.js';
import { FIELDS } from '../../src/log/mapping.js';
import { actionOf, ACTION_WORDS, COLUMN_SYNONYMS, fieldOfColumn } from '../../src/log/words.js';

// Contract §3, "CSV": the table of synonyms, word for word.
const SYNONYMS = {
  time: 'timecode tc timestamp clock at frame frames seconds sec ms milliseconds in start',
  action: 'event type operation transition',
  source: 'input camera cam angle',
  duration: 'length len',
  end: 'out until',
  wipe: 'pattern',
  note: 'comment label title marker remark',
};

describe('column names', () => {
  it.each(FIELDS.map((field) => [field, SYNONYMS[field].split(' ')] as const))('%s', (field, words) => {
    expect(COLUMN_SYNONYMS[field]).toEqual(words);
    for (const word of [field, ...words]) {
      expect(fieldOfColumn(word)).toBe(field);
      expect(fieldOfColumn(` ${word.toUpperCase()}\t`)).toBe(field);
    }
  });

  it('nothing else is one, and no word means two fields', () => {
    for (const word of ['', 'times', 'time code', 'constructor', '__proto__', 'zeit']) expect(fieldOfColumn(word)).toBeUndefined();
    const all = FIELDS.flatMap((field) => [field, ...COLUMN_SYNONYMS[field]]);
    expect(new Set(all).size).toBe(all.length);
  });
});

// Common practice of the trade, no published source.
describe('action words', () => {
  it.each(ACTIONS.map((action) => [action]))('%s means itself', (action) => {
    expect(actionOf(action)).toBe(action);
    expect(actionOf(action.toUpperCase())).toBe(action);
  });

  it.each([
    ['take', 'cut'], ['Cut', 'cut'], ['PGM', 'cut'], ['On Air', 'cut'], ['on-air', 'cut'],
    ['MIX', 'dissolve'], ['Auto', 'dissolve'], ['fade', 'dissolve'], ['cross_fade', 'dissolve'],
    ['Mix End', 'dissolve-end'], ['dissolve end', 'dissolve-end'], ['transition-end', 'dissolve-end'],
    ['preview', 'cue'], ['ARM', 'cue'], ['preset', 'cue'],
    ['record', 'start'], ['REC', 'start'], ['Start  Recording', 'start'], ['stop recording', 'stop'],
    ['note', 'marker'], ['mark', 'marker'], ['sound', 'audio'],
  ] as const)('%s means %s', (word, action) => {
    expect(actionOf(word)).toBe(action);
  });

  it('a blank word and a strange one mean nothing', () => {
    for (const word of ['', '  ', 'ignore', 'key on', 'toString', '__proto__']) expect(actionOf(word)).toBeUndefined();
  });

  it('each word is listed once', () => {
    expect(new Set(ACTION_WORDS).size).toBe(ACTION_WORDS.length);
    for (const word of ACTION_WORDS) expect(actionOf(word)).toBeDefined();
  });
});
