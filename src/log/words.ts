/**
 * Words: what columns and actions are called in the trade. Only plain words that no single maker owns; anything else
 * goes through a mapping file.
 */
import { ACTIONS, type Action } from '../cutlist/event.js';
import { FIELDS, type Field } from './mapping.js';

/** Further names of a column, in lower case; the field's own name always comes first. */
export const COLUMN_SYNONYMS: Readonly<Record<Field, readonly string[]>> = {
  time: ['timecode', 'tc', 'timestamp', 'clock', 'at', 'frame', 'frames', 'seconds', 'sec', 'ms', 'milliseconds', 'in', 'start'],
  action: ['event', 'type', 'operation', 'transition'],
  source: ['input', 'camera', 'cam', 'angle'],
  duration: ['length', 'len'],
  end: ['out', 'until'],
  wipe: ['pattern'],
  note: ['comment', 'label', 'title', 'marker', 'remark'],
};

/** Column names are compared without case, and without white space around them. */
export const columnWord = (name: string): string => name.trim().toLowerCase();

const FIELD_OF_WORD: ReadonlyMap<string, Field> = new Map(
  FIELDS.flatMap((field) => [field, ...COLUMN_SYNONYMS[field]].map((word) => [word, field] as const)),
);

/** The field that a column of this name feeds by itself, in any case; undefined for any other name. */
export const fieldOfColumn = (name: string): Field | undefined => FIELD_OF_WORD.get(columnWord(name));

/** Other words for an action, in lower case with single spaces. Common practice of the trade, no published source. */
const ACTION_SYNONYMS: Readonly<Record<Action, readonly string[]>> = {
  cut: ['take', 'switch', 'program', 'pgm', 'on air'],
  dissolve: ['mix', 'auto', 'fade', 'crossfade', 'cross fade', 'xfade', 'cross dissolve'],
  'dissolve-end': ['mix end', 'auto end', 'fade end', 'wipe end', 'transition end'],
  wipe: [],
  cue: ['preview', 'pvw', 'preset', 'pst', 'arm'],
  start: ['record', 'rec', 'record start', 'rec start', 'start record', 'start recording'],
  stop: ['record stop', 'rec stop', 'stop record', 'stop recording'],
  marker: ['mark', 'note', 'comment', 'chapter'],
  audio: ['sound'],
};

const actionWord = (word: string): string => word.trim().toLowerCase().replace(/[\s_-]+/g, ' ');

const ACTION_OF_WORD: ReadonlyMap<string, Action> = new Map(
  ACTIONS.flatMap((action) => [action.replace('-', ' '), ...ACTION_SYNONYMS[action]].map((word) => [word, action] as const)),
);

/**
 * The action that a log's word stands for, in any case; spaces, hyphens and underscores are alike. Undefined for a
 * word that is not plain trade language (and for a blank one: what that means is for the reader of the row to say).
 */
export const actionOf = (word: string): Action | undefined => ACTION_OF_WORD.get(word) ?? ACTION_OF_WORD.get(actionWord(word));

/** Every word that `actionOf` knows, for "did you mean". */
export const ACTION_WORDS: readonly string[] = [...ACTION_OF_WORD.keys()];
