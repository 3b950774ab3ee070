/** The tracks of a timeline: which one is the picture, which are sound, which are linecut's angles. */
import type { Rate } from '../../timecode/rate.js';
import { metadataAt, objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { checkEffects } from './effects.js';
import { itemsOf, nestedItems, trimmed, type Item } from './items.js';
import { hasContent, nameOf, NESTED, sayUnread } from './layers.js';
import { AUDIO, OURS } from './schema.js';
import { inFrames, rangeAt } from './times.js';

/** A track laid flat. `start` is where its first item begins, in record frames. */
export interface Layer {
  readonly track: At;
  readonly items: readonly Item[];
  readonly start: number;
}

export interface Layers {
  /** Undefined in a timeline of sound alone. */
  readonly picture: Layer | undefined;
  readonly sound: readonly (Layer & { readonly channel: number })[];
  readonly angles: readonly (Layer & { readonly source: string })[];
}

/** Sorts the layers of a timeline's stack. Of several picture tracks the first that is enabled counts, with a warning where others hold clips, else a note; with a note, disabled ones are left out. */
export function layersOf(document: Document, stack: At, rate: Rate): Layers {
  const all = [...objectsAt(stack, 'children')];
  const layer = (track: At): Layer => layerOf(document, stack, track, rate);
  const angles = all.filter((track) => angleOf(track) !== undefined && track.members['enabled'] === false);
  const played = all.filter((track) => track.members['enabled'] !== false && !angles.includes(track));
  const pictures = played.filter((track) => !isSound(track) && hasContent(track));
  const [picture] = pictures;
  checkEffects(document, stack);
  if (picture !== undefined) sayUnread(document, pictures, `the file has ${String(pictures.length)} picture tracks; the first${nameOf(picture)} is read`);
  const disabled = all.filter((track) => !played.includes(track) && !angles.includes(track) && hasContent(track));
  const [off] = disabled;
  if (off !== undefined) document.add('found', off.where, disabled.length === 1 ? `a track${nameOf(off)} is disabled and left out` : `${String(disabled.length)} tracks are disabled and left out, this${nameOf(off)} the first`);
  const sound = played.filter(isSound);
  const channels = channelsOf(sound);
  return {
    picture: picture === undefined ? undefined : layer(picture),
    sound: sound.map((track, index) => ({ ...layer(track), channel: channels[index] ?? index + 1 })),
    angles: angles.map((track) => ({ ...layer(track), source: angleOf(track) ?? '' })),
  };
}

const isSound = (track: At): boolean => track.members['kind'] === AUDIO;

function angleOf(track: At): string | undefined {
  const source = metadataAt(track, OURS)?.['angle'];
  return typeof source === 'string' ? source : undefined;
}

/** A track named A3 is channel 3; the others take the free channels from 1 on. */
function channelsOf(tracks: readonly At[]): number[] {
  const named = tracks.map((track) => /^A([1-9]\d?)$/.exec(textAt(track, 'name'))?.[1]).map((digits) => (digits === undefined ? undefined : Number(digits)));
  const taken = new Set<number>();
  const channels = named.map((channel) => {
    if (channel === undefined || taken.has(channel)) return undefined;
    taken.add(channel);
    return channel;
  });
  let free = 1;
  return channels.map((channel) => {
    if (channel !== undefined) return channel;
    while (taken.has(free)) free += 1;
    taken.add(free);
    return free;
  });
}

function layerOf(document: Document, stack: At, track: At, rate: Rate): Layer {
  document.schema(track);
  if (NESTED.has(schemaOf(track))) checkEffects(document, track);
  if (!['Track', 'Sequence'].includes(schemaOf(track))) {
    const items = schemaOf(track) === 'Stack' ? nestedItems(document, track, rate, 1) : itemsOf(document, { members: { children: [track.members] }, where: track.where }, rate);
    return { track, items: trimmed(document, stack, items, rate), start: 0 };
  }
  const items = itemsOf(document, track, rate);
  const range = rangeAt(document, track, 'source_range');
  if (range !== undefined) {
    const from = inFrames(range.start, rate);
    const length = items.reduce((sum, item) => sum + item.length, 0);
    // The reference EDL adapter says where a track begins by a range that starts that far before its first item.
    if (from < 0 && Math.abs(inFrames(range.duration, rate) - length) < 0.5) return { track, items, start: Math.round(-from) };
  }
  return { track, items: trimmed(document, stack, trimmed(document, track, items, rate), rate), start: 0 };
}
