/** Random cut lists with everything an EDL can hold, beyond what tests/support/lists.ts makes. */
import fc from 'fast-check';
import { BLACK, type AudioPiece, type CutList, type Shot, type Source } from '../../../src/cutlist/model.js';
import { convertFrames } from '../../../src/timecode/rate.js';
import { arbitraryList, type ListShape } from '../../support/lists.js';

/** Names and notes that try to break lines, columns and reels. */
export const TEXTS = ['Stage wide', 'Küche links', 'Großer Topf', 'Кухня', '厨房', 'a\r\n002  X  V  C', 'M2   X  010.0', 'tab\there', '\u2028line', 'BL', 'ax', '  ', '', '★', '* FROM CLIP NAME: no', 'x'.repeat(90), '100% done', '\u0000\u001b[2J'] as const;

/** A list with sound that changes where the picture does not, on any of four channels, sound-only sources, clip names, comments and files. */
export function richList(shape: ListShape = {}): fc.Arbitrary<CutList> {
  const piece = fc.record({ source: fc.nat(), at: fc.double({ min: 0, max: 1, noNaN: true }), from: fc.nat(100_000), tracks: fc.subarray([1, 2, 3, 4], { minLength: 1 }), shift: fc.integer({ min: 0, max: 2 }) });
  return fc
    .record({
      list: arbitraryList({ otherRates: true, ...shape }),
      own: fc.boolean(),
      pieces: fc.array(piece, { maxLength: 12 }),
      names: fc.array(fc.constantFrom(...TEXTS), { minLength: 8, maxLength: 8 }),
      reels: fc.array(fc.option(fc.constantFrom('WIDE', 'wide 2', 'A-1', 'A 1', 'LONGREELNAME1', 'LONGREELNAME2', 'BL', 'AX', 'Küche', '')), { minLength: 8, maxLength: 8 }),
      extras: fc.array(fc.record({ clipName: fc.option(fc.constantFrom(...TEXTS)), comment: fc.option(fc.constantFrom('see note 4', 'Überblendung', 'a\nb')) }), { minLength: 1, maxLength: 5 }),
      title: fc.constantFrom('Harbour Kitchen 14', 'Hafenküche', '', 'x'.repeat(80)),
      note: fc.constantFrom(...TEXTS),
      end: fc.boolean(),
    })
    .map(({ list, own, pieces, names, reels, extras, title, note, end }) => {
      const given = new Set<string>();
      const sources = list.sources.map((source, index): Source => {
        const reel = reels[index] ?? undefined;
        const twice = reel !== undefined && given.has(reel.toUpperCase());
        if (reel !== undefined) given.add(reel.toUpperCase());
        return {
          ...source,
          name: index % 2 === 0 ? source.name : (names[index] ?? source.name),
          ...(reel === undefined || twice ? {} : { reel }),
          files: [...source.files, { path: `C:\\Aufnahmen\\Küche ${String(index)} 100%25.mov` }],
        };
      });
      const shots = list.shots.map((shot, index): Shot => {
        const extra = extras[index % extras.length];
        if (shot.source === BLACK || extra === undefined) return shot;
        return {
          ...shot,
          ...(extra.clipName === null || extra.clipName.trim() === '' ? {} : { clipName: extra.clipName }),
          ...(extra.comment === null ? {} : { comments: [extra.comment] }),
        };
      });
      const audio = own ? soundOf(pieces, sources, list) : list.audio;
      const markers = end ? [...list.markers, { at: list.frames, note }] : list.markers;
      return { ...list, title, sources, shots, audio, markers };
    });
}

interface Given {
  readonly source: number;
  readonly at: number;
  readonly from: number;
  readonly tracks: readonly number[];
  readonly shift: number;
}

/** Pieces in order; each lasts to the next that needs one of its channels. */
function soundOf(pieces: readonly Given[], sources: readonly Source[], { frames, count }: CutList): AudioPiece[] {
  const sorted = pieces.map((piece) => ({ ...piece, in: Math.floor(piece.at * frames) })).filter((piece) => piece.in < frames).sort((a, b) => a.in - b.in || (a.tracks[0] ?? 0) - (b.tracks[0] ?? 0));
  const kept = sorted.filter((piece, index) => !sorted.slice(0, index).some((other) => other.in === piece.in && other.tracks.some((track) => piece.tracks.includes(track))));
  return kept.map((piece, index): AudioPiece => {
    const next = kept.slice(index + 1).find((other) => other.tracks.some((track) => piece.tracks.includes(track)));
    const out = next?.in ?? frames;
    const source = sources[piece.source % sources.length] as Source;
    const length = source.count.rate.nominal === count.rate.nominal ? out - piece.in : convertFrames(out - piece.in, count.rate, source.count.rate);
    return { source: source.id, in: piece.in, out, sourceIn: piece.from, sourceOut: piece.from + length, tracks: piece.tracks, channels: piece.tracks.map((track) => track + piece.shift), take: 0, file: 0, withPicture: false };
  });
}
