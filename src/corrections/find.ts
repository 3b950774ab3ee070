/** From corrections to edits: every one finds what it expects, or is reported. */
import { didYouMean } from '../nearest.js';
import { fault, isFault, problemOf, type Fault, type Report } from '../problems.js';
import type { Count } from '../timecode/rate.js';
import { parseTimecode } from '../timecode/timecode.js';
import { shorten } from '../visible.js';
import type { Correction } from './model.js';
import { placeText, type Edits, type InsertEdit, type MarkerEdit, type Mix, type ShotEdit, type SoundEdit, type ShotSpot } from './edits.js';
import { newFacts, withNewRate, withNewSource, type Facts } from './facts.js';
import { MarkerFinder } from './markers.js';
import { namedShot, shotText, signed, spotAt } from './where.js';
import { BLACK, NONE, type CutList, type Source } from '../cutlist/model.js';
import { findSource } from '../cutlist/naming.js';

/** All edits, or undefined when a correction is an error; every error is reported. */
export function findEdits(list: CutList, corrections: readonly Correction[], report: Report): Edits | undefined {
  const finder = new Finder(list);
  let sound = true;
  // Sources and the rate first: any other correction may name a new source, and the new record start is a label of the new rate.
  const ordered = [...corrections.filter(isFirst), ...corrections.filter((one) => !isFirst(one))];
  for (const correction of ordered) {
    const bad = finder.take(correction);
    if (bad === undefined) continue;
    sound = false;
    report(problemOf({ ...bad, message: `${correction.do}: ${bad.message}` }, correction.place));
  }
  return sound ? finder.edits() : undefined;
}

const isFirst = ({ do: what }: Correction): boolean => what === 'add-source' || what === 'source-rate' || what === 'rate';

type Step = Fault | undefined;

class Finder {
  readonly #list: CutList;
  #sources: readonly Source[];
  readonly #shots = new Map<number, ShotEdit>();
  readonly #inserts: InsertEdit[] = [];
  readonly #sounds: SoundEdit[] = [];
  readonly #markers: MarkerEdit[] = [];
  readonly #recounted = new Map<string, Count>();
  readonly #named = new Map<string, Correction>();
  readonly #markerFinder: MarkerFinder;
  #facts: Facts = {};

  constructor(list: CutList) {
    this.#list = list;
    this.#sources = list.sources;
    this.#markerFinder = new MarkerFinder(list);
  }

  edits(): Edits {
    return {
      shots: this.#shots, inserts: this.#inserts, sounds: this.#sounds, markers: this.#markers,
      sources: this.#sources, recounted: this.#recounted, ...this.#facts,
    };
  }

  take(given: Correction): Step {
    switch (given.do) {
      case 'source': case 'points': return this.#source(given);
      case 'start': return this.#start(given);
      case 'dissolve': case 'wipe': case 'cut': return this.#mix(given);
      case 'remove': return this.#shot(given, 'remove', () => ({ remove: true }));
      case 'length': return this.#length(given);
      case 'insert': case 'sound': return this.#piece(given);
      case 'add-marker': return this.#spot(given.at ?? '', (to) => {
        this.#markers.push({ do: 'add', to, note: given.note ?? '', by: given, ...colorOf(given) });
        return undefined;
      });
      case 'rename-marker': case 'move-marker': case 'remove-marker': return this.#marker(given);
      case 'title': case 'record-start': case 'rate': {
        const facts = newFacts(this.#list, given, this.#facts);
        if (isFault(facts)) return facts;
        this.#facts = facts;
        return this.#once(given.do, given);
      }
      case 'add-source': return this.#newSource(given);
      case 'source-rate': return this.#sourceRate(given);
      default: return given.do satisfies never;
    }
  }

  /** Adds to the edit of the named shot; one part of a shot is corrected once. */
  #shot(given: Correction, part: keyof ShotEdit['by'], edit: (index: number) => Omit<ShotEdit, 'by'> | Fault): Step {
    const index = namedShot(this.#list, given);
    if (isFault(index)) return index;
    const old = this.#shots.get(index) ?? { by: {} };
    const other = old.by[part];
    if (other !== undefined) return fault('bad-corrections', `${placeText(other.place)} corrects the same of shot ${String(index + 1)}`);
    const added = edit(index);
    if (isFault(added)) return added;
    const merged: ShotEdit = { ...old, ...added, by: { ...old.by, [part]: given } };
    if (merged.length === 0 && Object.keys(merged.by).length > 1) return fault('bad-corrections', `shot ${String(index + 1)} is taken out by its length, and corrected otherwise as well`);
    if (merged.remove === true && Object.keys(merged.by).some((key) => key !== 'remove' && key !== 'length')) {
      return fault('bad-corrections', `shot ${String(index + 1)} is removed, and corrected otherwise as well`);
    }
    this.#shots.set(index, merged);
    return undefined;
  }

  #source(given: Correction): Step {
    return this.#shot(given, 'source', (index) => {
      if (given.do === 'points' && given.sourceIn === undefined && given.sourceFrames === undefined) {
        return fault('bad-corrections', 'it needs sourceIn or sourceFrames');
      }
      const old = this.#list.shots[index]?.source ?? BLACK;
      const id = given.do === 'points' ? old : this.#sourceId(given.source ?? '');
      if (isFault(id)) return id;
      const points = this.#points(given, id);
      if (isFault(points)) return points;
      if (this.#sources.find((source) => source.id === id)?.picture === false) return fault('bad-corrections', `'${id}' is a sound-only recording; it has no picture`);
      return { ...(id === old ? {} : { source: id }), ...points };
    });
  }

  #points({ sourceIn, sourceFrames }: Correction, id: string): { sourceIn?: number; sourceFrames?: number } | Fault {
    const frames = sourceFrames === undefined ? {} : { sourceFrames };
    if (sourceIn === undefined) return frames;
    if (id === BLACK || id === NONE) return fault('bad-corrections', `${id} has no source points`);
    const at = sourceIn.trim();
    if (/^-?\d+$/.test(at)) return { sourceIn: Number(at), ...frames };
    const frame = parseTimecode(at, this.#sources.find((source) => source.id === id)?.count ?? this.#list.count);
    return isFault(frame) ? frame : { sourceIn: frame, ...frames };
  }

  #start(given: Correction): Step {
    return this.#shot(given, 'start', (index) => {
      if (index === 0) return fault('bad-corrections', 'shot 1 begins the list, which stays where it is');
      const to = (given.to ?? '').trim();
      const by = signed(to, 'later', 'earlier');
      if (by !== undefined) return { start: by };
      const isBare = /^\d+$/.test(to);
      const spot = isBare ? undefined : spotAt(this.#list, to);
      if (spot !== undefined && !isFault(spot)) return { start: spot };
      // What has no mark of a label was meant as a number of frames.
      if (spot !== undefined && (spot.fault !== 'bad-time' || /[:;]/.test(to))) return spot;
      const frames = /\d+/.exec(to)?.[0] ?? '5';
      return fault('bad-corrections', `to is '${shorten(to)}'; write '${frames} later', '${frames} earlier' or a timecode`);
    });
  }

  #mix(given: Correction): Step {
    return this.#shot(given, 'mix', (index) => {
      const shot = this.#list.shots[index];
      if (given.do !== 'cut') return { mix: mixOf(given.frames ?? 1, given.do === 'wipe' ? given.wipe : undefined) };
      return shot?.transition === undefined ? fault('correction-mismatch', `${shotText(this.#list, index)}, and is a cut already`) : { mix: 'cut' };
    });
  }

  #length(given: Correction): Step {
    return this.#shot(given, 'length', (index) => {
      const shot = this.#list.shots[index];
      const old = shot === undefined ? 0 : shot.out - shot.in;
      const to = (given.to ?? '').trim();
      if ((given.frames === undefined) === (to === '')) return fault('bad-corrections', 'it needs frames (the new length), or to (10 longer, 10 shorter)');
      const by = to === '' ? undefined : signed(to, 'longer', 'shorter');
      if (to !== '' && by === undefined) return fault('bad-corrections', `to is '${to}'; write '10 longer' or '10 shorter', or give the new length as frames`);
      const length = by === undefined ? (given.frames ?? old) : old + by;
      return length < 0 ? fault('bad-corrections', `shot ${String(index + 1)} has only ${String(old)} frames`) : { length };
    });
  }

  #spot(text: string, use: (spot: ShotSpot) => Step): Step {
    const spot = spotAt(this.#list, text);
    return isFault(spot) ? spot : use(spot);
  }

  #piece(given: Correction): Step {
    const sound = given.do === 'sound';
    return this.#spot(given.at ?? '', (spot) => {
      const source = this.#sourceId(given.source ?? '', sound);
      const expect = this.#sourceId(given.expect ?? '', sound);
      if (isFault(source)) return source;
      if (isFault(expect)) return expect;
      const points = this.#points(given, source);
      if (isFault(points)) return points;
      if (!sound && this.#sources.find(({ id }) => id === source)?.picture === false) return fault('bad-corrections', `'${source}' is a sound-only recording; it has no picture`);
      if ((given.frames ?? 0) < 1) return fault('bad-corrections', 'frames is 0; it needs at least one');
      if (given.wipe !== undefined && given.mix === undefined) return fault('bad-corrections', 'it has a wipe code; give the length of the wipe as mix');
      const mix = given.mix === undefined ? {} : { mix: mixOf(given.mix, given.wipe) };
      const edit: SoundEdit = {
        spot, frames: given.frames ?? 1, expect, source, ...points, ...mix, by: given,
        ...(given.tracks === undefined ? {} : { tracks: given.tracks }), ...(given.channels === undefined ? {} : { channels: given.channels }),
      };
      (sound ? this.#sounds : this.#inserts).push(edit);
      return undefined;
    });
  }

  #sourceId(word: string, silence = false): string | Fault {
    if (silence && word.trim().toLowerCase() === NONE) return NONE;
    const known = [...this.#sources.map(({ id }) => id), BLACK, ...(silence ? [NONE] : [])];
    return findSource(this.#sources, word) ?? fault('unknown-source', `source '${word}' is not known${didYouMean(word, known) || `; the list has ${known.join(', ')}`}`);
  }

  #marker(given: Correction): Step {
    const marker = this.#markerFinder.find(given);
    if (isFault(marker)) return marker;
    if (given.do === 'remove-marker') this.#markers.push({ do: 'remove', marker });
    else if (given.do === 'rename-marker') this.#markers.push({ do: 'rename', marker, note: given.note ?? '', ...colorOf(given) });
    else {
      return this.#spot(given.to ?? '', (to) => {
        this.#markers.push({ do: 'move', marker, to, by: given });
        return undefined;
      });
    }
    return undefined;
  }

  #once(key: string, given: Correction): Step {
    const other = this.#named.get(key);
    this.#named.set(key, given);
    return other === undefined ? undefined : fault('bad-corrections', `${placeText(other.place)} says it already`);
  }

  #newSource(given: Correction): Step {
    const sources = withNewSource(this.#sources, given, this.#list);
    if (isFault(sources)) return sources;
    this.#sources = sources;
    return undefined;
  }

  #sourceRate(given: Correction): Step {
    const id = this.#sourceId(given.source ?? '');
    if (isFault(id)) return id;
    const old = this.#sources.find((one) => one.id === id);
    if (old === undefined) return fault('bad-corrections', `${id} has no rate`);
    if (this.#recounted.has(id)) return fault('bad-corrections', `the rate of '${id}' is given twice`);
    const source = withNewRate(old, given);
    if (isFault(source)) return source;
    this.#recounted.set(id, old.count);
    this.#sources = this.#sources.map((one) => (one.id === id ? source : one));
    return undefined;
  }
}

const colorOf = ({ color }: Correction): { color?: string } => (color === undefined ? {} : { color });

const mixOf = (frames: number, wipe: number | undefined): Mix => (wipe === undefined ? { kind: 'dissolve', frames } : { kind: 'wipe', frames, wipe });
