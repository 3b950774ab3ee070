/** What linecut noted beside clips, kept only where it still fits: somebody may have edited the list since. */
import { BLACK, PROGRAM, type EventRef, type Shot, type Take } from '../../cutlist/model.js';
import { isMembers, metadataAt, type At, type Document, type Members } from './document.js';
import { EDL_KEY, OURS } from './schema.js';
import type { Read } from './stretches.js';

const whole = (value: unknown, from: number): value is number => Number.isSafeInteger(value) && (value as number) >= from;
const integer = (value: unknown): value is number => Number.isSafeInteger(value);

/** The takes noted in a timeline, where they are takes of a list of `frames`. */
function notedTakes(timeline: At, frames: number): Take[] | undefined {
  const noted = metadataAt(timeline, OURS)?.['takes'];
  if (!Array.isArray(noted)) return undefined;
  const takes: Take[] = [];
  let end = 0;
  for (const take of noted as unknown[]) {
    if (!isMembers(take)) return undefined;
    const { in: from, out, logIn, origin, number, recordingIn, counterIn } = take;
    if (!whole(from, end) || !whole(out, from + 1) || out > frames || !integer(logIn)) return undefined;
    takes.push({
      in: from,
      out,
      logIn,
      ...(origin === 'timecode' || origin === 'recording' ? { origin } : {}),
      // By these a correction finds the frame that is in sync.
      ...(whole(number, 1) ? { number } : {}),
      ...(integer(recordingIn) ? { recordingIn } : {}),
      ...(integer(counterIn) ? { counterIn } : {}),
    });
    end = out;
  }
  return takes;
}

/** The takes, and the take of each stretch. */
export interface Takes {
  readonly takes: readonly Take[];
  readonly takeOf: (read: Read) => number;
}

/** The noted takes where every shot still lies in its own, else one take over the whole list. */
export function takesOf(document: Document, timeline: At, shots: readonly Read[], frames: number): Takes {
  const takes = notedTakes(timeline, frames);
  const notedTake = ({ item }: Read): number => {
    const ours = metadataAt(item.at, OURS);
    return whole(ours?.['take'], 0) ? ours['take'] : 0;
  };
  if (takes !== undefined) {
    let last = 0;
    const fits = shots.every((shot) => {
      const index = notedTake(shot);
      const take = takes[index];
      const ordered = index >= last;
      last = index;
      if (take === undefined || !ordered) return false;
      return (shot.in >= take.in && shot.out <= take.out) || (shot.source === BLACK && (shot.out <= take.in || shot.in >= take.out));
    });
    if (fits) return { takes, takeOf: (read) => (takes[notedTake(read)] === undefined ? 0 : notedTake(read)) };
    document.note('the takes noted in the file no longer fit its clips; the list is read as one take');
  }
  return { takes: frames > 0 ? [{ in: 0, out: frames, logIn: 0 }] : [], takeOf: () => 0 };
}

/** A shot with what was noted of it. `known` tells which sources there are. */
export function shotOf(read: Read, take: number, before: Shot | undefined, known: (id: unknown) => id is string): Shot {
  const { source, in: from, out, sourceIn, sourceOut, transition, speed, file, clipName, item } = read;
  const ours = metadataAt(item.at, OURS);
  const event = eventOf(ours?.['event']);
  const instead = ours?.['instead'];
  const replaced = (source === BLACK || source === PROGRAM) && instead !== source && known(instead) ? instead : undefined;
  const comments = metadataAt(item.at, EDL_KEY)?.['comments'];
  const kept = Array.isArray(comments) ? comments.filter((text): text is string => typeof text === 'string') : [];
  const continues =
    ours?.['continues'] === true && before !== undefined && transition === undefined && before.take === take && (before.instead ?? before.source) === (replaced ?? source);
  const shot: { -readonly [Key in keyof Shot]: Shot[Key] } = { source, in: from, out, sourceIn, sourceOut, take };
  if (transition !== undefined) shot.transition = transition;
  if (speed !== undefined) shot.speed = speed;
  if (file !== undefined) shot.file = file;
  if (continues) shot.continues = true;
  if (replaced !== undefined) shot.instead = replaced;
  if (event !== undefined) shot.event = event;
  if (clipName !== undefined) shot.clipName = clipName;
  if (kept.length > 0) shot.comments = kept;
  return shot;
}

function eventOf(noted: unknown): EventRef | undefined {
  if (!isMembers(noted)) return undefined;
  const { number, action, note }: Members = noted;
  if (!whole(number, 1) || typeof action !== 'string') return undefined;
  return { number, action, ...(typeof note === 'string' ? { note } : {}) };
}
