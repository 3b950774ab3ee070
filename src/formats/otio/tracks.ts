/** The tracks of a timeline: which one is the picture, which are sound, which are linecut's angles. */
import type { Rate } from '../../timecode/rate.js';
import { metadataAt, objectsAt, schemaOf, textAt, type At, type Document } from './document.js';
import { checkEffects } from './effects.js';
import { compositionItems, itemsOf, nestedItems, type Item } from './items.js';
import { hasContent, isEnabled, isOf, isSound, layersIn, nameOf, NESTED, sayUnread, type Sort } from './layers.js';
import { fullLength } from './lengths.js';
import { sayLostSound } from './lost-sound.js';
import { OURS } from './schema.js';
import { inFrames, rangeAt } from './times.js';
import { filled, trimmed } from './trim.js';
import { toFrame } from './whole.js';

/** A track laid flat. `start` is where its first item begins, in record frames. */
export interface Layer {
  /** The timeline's own track or stack that holds it. */
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

/**
 * Sorts the layers of a timeline's stack. Of several picture tracks the first that is enabled counts, with a warning where others hold
 * clips, else a note; with a note, disabled ones are left out. A stack among the tracks gives each of its Audio tracks.
 */
export function layersOf(document: Document, stack: At, rate: Rate): Layers {
  const all = [...objectsAt(stack, 'children')];
  const angles = all.filter((track) => angleOf(track) !== undefined && !isEnabled(track));
  const played = all.filter((track) => isEnabled(track) && !angles.includes(track));
  const pictures = played.filter((track) => isOf('picture', track) && hasContent(track));
  const [picture] = pictures;
  checkEffects(document, stack);
  if (picture !== undefined) sayUnread(document, pictures, 'picture', `the file has ${String(pictures.length)} picture tracks; the first${nameOf(picture)} is read`);
  const disabled = all.filter((track) => !played.includes(track) && !angles.includes(track) && hasContent(track));
  const [off] = disabled;
  if (off !== undefined) document.add('found', off.where, disabled.length === 1 ? `a track${nameOf(off)} is disabled and left out` : `${String(disabled.length)} tracks are disabled and left out, this${nameOf(off)} the first`);
  sayLostSound(document, played);
  const sound = played.flatMap((track) => soundOf(document, stack, track, rate));
  const channels = channelsOf(sound.map(({ named }) => named));
  return {
    picture: picture === undefined ? undefined : layerOf(document, stack, picture, rate, 'picture'),
    sound: sound.map(({ layer }, index) => ({ ...layer, channel: channels[index] ?? index + 1 })),
    angles: angles.map((track) => ({ ...layerOf(document, stack, track, rate, isSound(track) ? 'sound' : 'picture'), source: angleOf(track) ?? '' })),
  };
}

/** A layer of sound and the Audio track that it is, from whose name its channel comes. */
interface Sound {
  readonly named: At;
  readonly layer: Layer;
}

function soundOf(document: Document, stack: At, track: At, rate: Rate): Sound[] {
  if (isSound(track)) return [{ named: track, layer: layerOf(document, stack, track, rate, 'sound') }];
  if (schemaOf(track) !== 'Stack') return [];
  return soundIn(document, track, rate, 1).map(({ named, items }) => ({ named, layer: { track, items: trimmed(document, stack, items, rate), start: 0 } }));
}

/** The Audio tracks of a stack, and of stacks in it, as long as the stack. */
function soundIn(document: Document, stack: At, rate: Rate, depth: number): { readonly named: At; readonly items: Item[] }[] {
  const length = fullLength(document.quiet, stack, rate);
  return layersIn(stack, 'sound')
    .flatMap((layer) => (isSound(layer) ? [{ named: layer, items: compositionItems(document, layer, rate, 'sound', depth + 1) }] : soundIn(document, layer, rate, depth + 1)))
    .map(({ named, items }) => ({ named, items: trimmed(document, stack, filled(stack, items, length), rate) }));
}

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

function layerOf(document: Document, stack: At, track: At, rate: Rate, sort: Sort): Layer {
  document.schema(track);
  if (NESTED.has(schemaOf(track))) checkEffects(document, track);
  if (!['Track', 'Sequence'].includes(schemaOf(track))) {
    const items = schemaOf(track) === 'Stack' ? nestedItems(document, track, rate, sort, 1) : itemsOf(document, { members: { children: [track.members] }, where: track.where }, rate, sort);
    return { track, items: trimmed(document, stack, items, rate), start: 0 };
  }
  const items = itemsOf(document, track, rate, sort);
  const range = rangeAt(document, track, 'source_range');
  if (range !== undefined) {
    const from = inFrames(range.start, rate);
    const length = items.reduce((sum, item) => sum + item.length, 0);
    // The reference EDL adapter says where a track begins by a range that starts that far before its first item.
    if (from < 0 && Math.abs(inFrames(range.duration, rate) - length) < 0.5) return { track, items, start: toFrame(-from) };
  }
  return { track, items: trimmed(document, stack, trimmed(document, track, items, rate), rate), start: 0 };
}
