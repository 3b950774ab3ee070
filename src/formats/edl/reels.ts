/** The reel of each source: legal, unique, and the same from run to run. */
import { BLACK, type Source } from '../../cutlist/model.js';
import { problem, type Report } from '../../problems.js';
import { asciiText } from './ascii.js';
import { AUXILIARY_REEL, BLACK_REEL } from './columns.js';

/** Reels that mean something themselves. The first two are from memory of SMPTE 258M, `BLACK` is common practice, no source. */
const RESERVED: ReadonlySet<string> = new Set([BLACK_REEL, AUXILIARY_REEL, 'BLACK']);

/** The letters and digits of a text, as a reel has them. */
export const legal = (text: string): string => asciiText(text).toUpperCase().replace(/[^A-Z0-9]/g, '');

/**
 * Source id → reel of at most `length` characters A–Z 0–9: the source's reel, else its name, else its id; `AX` where nothing is left. Reels
 * that were given are served first, then names, each in the order of the sources; one that is taken gets a number at its end. The choice
 * depends on the list of sources alone, so that a reel does not change with what is on air. Reports `reel-taken`: an error where one
 * reel is given to two sources (undefined then), a warning where a reel cannot be kept as it was given.
 */
export function reelNames(sources: readonly Source[], length: number, report: Report): ReadonlyMap<string, string> | undefined {
  if (!checkGiven(sources, report)) return undefined;
  const names = new Map<string, string>([[BLACK, BLACK_REEL]]);
  const taken = new Set(RESERVED);
  const numbers = new Map<string, number>();
  // What is left of the reels that were given, once they are cut: a number must not make one source's of another's, which has its own then.
  const others = new Set(sources.map((source) => given(source).slice(0, length)));
  const claim = (wanted: string): string => {
    const cut = wanted.slice(0, length);
    let name = cut === AUXILIARY_REEL && wanted === AUXILIARY_REEL && !numbers.has(cut) ? cut : undefined;
    if (!taken.has(cut)) name = cut;
    for (let number = numbers.get(cut) ?? 2; name === undefined; number += 1) {
      const end = String(number);
      const candidate = cut.slice(0, length - end.length) + end;
      if (!taken.has(candidate) && !others.has(candidate)) name = candidate;
      numbers.set(cut, number + 1);
    }
    if (!numbers.has(cut)) numbers.set(cut, 2);
    taken.add(name);
    return name;
  };
  // A reel that is legal as it is comes before one that has to be made so, and this before one that has to be cut.
  for (const legalOnly of [true, false]) {
    for (const source of sources) {
      const wanted = given(source);
      const fits = wanted !== '' && wanted.length <= length && !taken.has(wanted) && !names.has(source.id);
      if (fits && (!legalOnly || wanted === source.reel?.trim().toUpperCase())) names.set(source.id, claim(wanted));
    }
  }
  for (const source of sources) {
    const wanted = given(source);
    if (wanted === '' || names.has(source.id) || RESERVED.has(wanted)) continue;
    const name = claim(wanted);
    names.set(source.id, name);
    if (name !== wanted.slice(0, length)) {
      report(problem('reel-taken', `reel '${source.reel ?? ''}' of ${source.name} becomes ${name}: ${wanted.slice(0, length)} is another source's`, undefined, 'warning'));
    }
  }
  for (const source of sources) {
    if (names.has(source.id)) continue;
    const wanted = [source.name, source.id].map(legal).find((name) => name !== '' && !RESERVED.has(name)) ?? AUXILIARY_REEL;
    const name = claim(wanted);
    names.set(source.id, name);
    if (given(source) !== '') {
      report(problem('reel-taken', `reel '${source.reel ?? ''}' of ${source.name} becomes ${name}: ${given(source)} is reserved`, undefined, 'warning'));
    }
  }
  return names;
}

const given = ({ reel }: Source): string => (reel === undefined ? '' : legal(reel));

/** False, with an error, where one reel is given to two sources. */
function checkGiven(sources: readonly Source[], report: Report): boolean {
  const owners = new Map<string, Source>();
  let sound = true;
  for (const source of sources) {
    const reel = source.reel?.trim().toUpperCase() ?? '';
    if (reel === '') continue;
    const owner = owners.get(reel);
    if (owner === undefined) owners.set(reel, source);
    else {
      sound = false;
      report(problem('reel-taken', `reel '${source.reel ?? ''}' is given to both ${owner.name} and ${source.name}`));
    }
  }
  return sound;
}
