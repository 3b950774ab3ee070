/** Rules that shots, sound and angles share, for `listFaults`. */
import { BLACK, type Source, type Transition } from './model.js';

/** Takes one sentence about a broken rule. */
export type AddFault = (text: string) => void;

export const nr = (index: number): string => String(index + 1);

export const whole = (value: number, from: number): boolean => Number.isSafeInteger(value) && value >= from;

export const isFrame = (value: number): boolean => whole(value, 0);

/** A transition has at least one frame, is no longer than its shot (`length` frames), and keeps its boundary inside. */
export function isInsideMix(transition: Transition, length: number, name: string, add: AddFault): void {
  const { kind, frames, wipe, inOffset } = transition;
  if (!whole(frames, 1) || frames > length) add(`${name} has ${String(length)} frames, and a transition of ${String(frames)}`);
  if (!whole(inOffset, 0) || inOffset > frames) add(`${name} has a transition of ${String(frames)} frames with its boundary on ${String(inOffset)}`);
  if (wipe !== undefined && (kind !== 'wipe' || !whole(wipe, 0) || wipe > 999)) add(`${name} has a ${kind} with the wipe code ${String(wipe)}`);
}

/** What shots and pieces of sound share: points in order, a known source, a file that is there. */
export function rangeFaults(
  range: { readonly source: string; readonly in: number; readonly out: number; readonly sourceIn: number; readonly sourceOut: number; readonly file?: number },
  name: string,
  known: ReadonlyMap<string, Source>,
  add: AddFault,
): void {
  if (!isFrame(range.in) || !isFrame(range.out) || range.in >= range.out) add(`${name} goes from ${String(range.in)} to ${String(range.out)}`);
  if (!Number.isSafeInteger(range.sourceIn) || !Number.isSafeInteger(range.sourceOut) || range.sourceOut < range.sourceIn) {
    add(`${name} has the source points ${String(range.sourceIn)} and ${String(range.sourceOut)}`);
  }
  if (range.source === BLACK) {
    if (range.sourceIn !== 0 || range.sourceOut !== range.out - range.in) add(`${name} is black, with source points other than 0 and its length`);
    if (range.file !== undefined) add(`${name} is black, and has a file`);
    return;
  }
  const source = known.get(range.source);
  if (source === undefined) add(`${name} is on '${range.source}', which is not known`);
  else if (range.file !== undefined && source.files[range.file] === undefined) add(`${name} plays from file ${nr(range.file)} of '${range.source}', which is not there`);
}
