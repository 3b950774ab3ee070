/** Corrections of shots: lengths, starts, removals and insertions first, then what each shot shows and how it comes on. */
import type { CutList, Shot } from '../cutlist/model.js';
import { BLACK } from '../cutlist/model.js';
import { sourceLength } from '../cutlist/sync.js';
import { sameMix } from '../cutlist/transitions.js';
import { formatTimecode } from '../timecode/timecode.js';
import type { Match } from './align.js';
import { applied, type Draft } from './draft.js';
import type { Matched } from './match.js';
import { slip, useDiffers } from './points.js';
import type { SourceNames } from './source-names.js';
import { timeText, type Spots } from './spots.js';

/** New lengths by index of the shot, 0 for one that is taken out with its time. */
export type Lengths = ReadonlyMap<number, number>;

const frames = (shot: Shot | undefined): number => (shot === undefined ? 0 : shot.out - shot.in);

/** All of the change in running time at the end of the list: what lies behind B's end is taken out, or the last shot grows. */
export function lengthsAtEnd({ a, b }: Matched): Lengths {
  const lengths = new Map<number, number>();
  a.shots.forEach((shot, index) => {
    if (shot.in >= b.frames) lengths.set(index, 0);
    else if (shot.out > b.frames || (index === a.shots.length - 1 && shot.out < b.frames)) lengths.set(index, b.frames - shot.in);
  });
  return lengths;
}

/** The change where it seems to have happened; undefined where no shot can take it. */
export function lengthsInside({ a, b, matches, shifts }: Matched): Lengths | undefined {
  const lengths = new Map<number, number>();
  let before = 0;
  for (let index = 0; index <= matches.length; index += 1) {
    const change = (shifts[index] ?? b.frames - a.frames) - before;
    before += change;
    if (change === 0) continue;
    const last = matches[index - 1]?.[0];
    const next = matches[index]?.[0] ?? a.shots.length;
    let left = change;
    // Shots that B lacks take their time with them first.
    for (let gone = next - 1; left < 0 && gone > (last ?? -1); gone -= 1) {
      if (frames(a.shots[gone]) > -left) continue;
      lengths.set(gone, 0);
      left += frames(a.shots[gone]);
    }
    if (left === 0) continue;
    const carrier = last ?? next;
    const length = (lengths.get(carrier) ?? frames(a.shots[carrier])) + left;
    if (a.shots[carrier] === undefined || length < 1 || lengths.get(carrier) === 0) return undefined;
    lengths.set(carrier, length);
  }
  return lengths.size === 0 ? undefined : lengths;
}

/** The corrections; undefined where these lengths lead nowhere. Sources that they name are noted in `names`. */
export function shotCorrections(matched: Matched, lengths: Lengths, spots: Spots, names: SourceNames): Draft[] | undefined {
  const { a, b } = matched;
  if (spots.frames !== b.frames) return undefined;
  let live: readonly Match[] = matched.matches.filter(([i]) => lengths.get(i) !== 0);
  const anyone = a.shots.findIndex((_, index) => lengths.get(index) !== 0);
  // One shot has to stay to hold what is inserted.
  if (live.length === 0) live = [[anyone, 0]];
  const kept = new Set(live.map(([i]) => i));
  const known = new Set(live.map(([, j]) => j));
  const ref = (index: number): Pick<Draft, 'shot' | 'at' | 'expect'> => {
    const shot = a.shots[index] as Shot;
    return { shot: index + 1, at: timeText(a, shot.in), expect: shot.source };
  };
  const drafts: Draft[] = [];
  a.shots.forEach((_, index) => {
    const length = lengths.get(index);
    if (length !== undefined) drafts.push({ do: 'length', ...ref(index), frames: length });
    if (length !== 0 && !kept.has(index)) drafts.push({ do: 'remove', ...ref(index) });
  });
  live.forEach(([i, j], index) => {
    const later = (b.shots[j]?.in ?? 0) - (spots.starts[i] ?? 0);
    // The first one begins the list, or behind what is inserted over its first frames.
    if (index > 0 && later !== 0) drafts.push({ do: 'start', ...ref(i), to: later > 0 ? `${String(later)} later` : `${String(-later)} earlier` });
  });
  b.shots.forEach((shot, index) => {
    if (!known.has(index)) drafts.push(insertion(matched, shot, spots, names));
  });
  const ready = applied(a, [...names.drafts(), ...drafts]);
  if (ready?.shots.length !== b.shots.length) return undefined;
  return [...drafts, ...live.flatMap(([i, j]) => own(matched, ready, j, ref(i), names))];
}

function insertion({ a }: Matched, shot: Shot, spots: Spots, names: SourceNames): Draft {
  const over = a.shots[spots.shotAt(shot.in)];
  const mix = shot.transition;
  return {
    do: 'insert', at: spots.name(shot.in), expect: over?.source ?? BLACK, source: names.idOf(shot.source), frames: frames(shot),
    ...points(a, shot, names),
    ...(mix === undefined ? {} : { mix: mix.frames }), ...(mix?.kind === 'wipe' ? { wipe: mix.wipe ?? 0 } : {}),
  };
}

/** Source points for a new piece: its in-point, and how much it uses where the rates do not say it. */
export function points(a: CutList, piece: Pick<Shot, 'source' | 'in' | 'out' | 'sourceIn' | 'sourceOut'>, names: SourceNames): Pick<Draft, 'sourceIn' | 'sourceFrames'> {
  if (piece.source === BLACK) return {};
  const count = names.countFor(piece.source);
  const used = piece.sourceOut - piece.sourceIn;
  const sourceFrames = used === sourceLength(piece.out - piece.in, a.count, count) ? {} : { sourceFrames: used };
  return { sourceIn: formatTimecode(piece.sourceIn, count), ...sourceFrames };
}

/** What is left to say of a shot when everything lies where it should. */
function own({ a, b }: Matched, ready: CutList, index: number, ref: Pick<Draft, 'shot' | 'at' | 'expect'>, names: SourceNames): Draft[] {
  const pair = names.pair(ready);
  const [is, wanted] = [ready.shots[index] as Shot, b.shots[index] as Shot];
  const out: Draft[] = [];
  if (pair.key.a(is.source) !== pair.key.b(wanted.source)) {
    out.push({ do: 'source', ...ref, source: names.idOf(wanted.source), ...points(a, wanted, names) });
  } else {
    const [later, more] = [slip(pair, is, wanted), useDiffers(pair, is, wanted)];
    if (later !== 0 || more !== 0) {
      const label = formatTimecode(wanted.sourceIn, names.countFor(wanted.source));
      out.push({ do: 'points', ...ref, sourceIn: label, ...(more === 0 ? {} : { sourceFrames: wanted.sourceOut - wanted.sourceIn }) });
    }
  }
  const mix = wanted.transition;
  if (sameMix(is.transition, mix)) return out;
  if (mix === undefined) out.push({ do: 'cut', ...ref });
  else out.push({ do: mix.kind, ...ref, frames: mix.frames, ...(mix.kind === 'wipe' ? { wipe: mix.wipe ?? 0 } : {}) });
  return out;
}
