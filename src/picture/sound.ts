/** Sound under the lanes: a row for each program channel, or for those that play the same all along. */
import { BLACK, type CutList } from '../cutlist/model.js';
import { sourceCounts } from '../cutlist/source-counts.js';
import { stretches, type ChannelStretch } from '../cutlist/stretches.js';
import { framesPerDay } from '../timecode/timecode.js';
import { coord, escape } from './markup.js';
import { INK, SOFT } from './palette.js';
import { fitText } from './places.js';
import { AXIS_WIDTH, GUTTER, THINNEST, xOf, type Strip } from './scale.js';

const HEIGHT = 12;
const ROW = HEIGHT + 6;

/** What is heard in one or more program channels, the same in all of them. */
export interface SoundRow {
  /** `Sound A1–A2`. */
  readonly name: string;
  /** In record order; silence between them. */
  readonly bars: readonly ChannelStretch[];
}

/** The rows of a list's sound, in the order of their first channels; a channel that is silent all along has none. */
export function soundRows(list: CutList): SoundRow[] {
  const countOf = sourceCounts(list);
  const rows = new Map<string, { readonly tracks: number[]; readonly bars: readonly ChannelStretch[] }>();
  for (const [track, heard] of [...stretches(list, countOf)].sort(([one], [other]) => one - other)) {
    const bars = heard.filter(({ source }) => source !== BLACK);
    const key = JSON.stringify(bars.map(({ source, in: from, out, sourceIn, sourceOut, transition }) => [source, from, out, sourceIn % framesPerDay(countOf(source)), sourceOut - sourceIn, transition]));
    const row = rows.get(key);
    if (row !== undefined) row.tracks.push(track);
    else if (bars.length > 0) rows.set(key, { tracks: [track], bars });
  }
  return [...rows.values()].map(({ tracks, bars }) => ({ name: `Sound ${channelNames(tracks)}`, bars }));
}

/** `A1`, `A1–A4`, `A1, A3`: channels in rising order, those that follow one another as a range. */
function channelNames(tracks: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const track of tracks) {
    const last = ranges.at(-1);
    if (last?.[1] === track - 1) last[1] = track;
    else ranges.push([track, track]);
  }
  return ranges.map(([from, to]) => (from === to ? `A${String(from)}` : `A${String(from)}–A${String(to)}`)).join(', ');
}

/** Draws the rows below `y`. */
export function drawSound(strip: Strip, list: CutList, rows: readonly SoundRow[], y: number): { readonly svg: string; readonly bottom: number } {
  const names = new Map(list.sources.map((source) => [source.id, source.name]));
  const drawn = rows.map(({ name, bars }, index) => {
    const top = y + index * ROW;
    const boxes = bars
      .filter((bar) => bar.out > strip.from && bar.in < strip.to)
      .map((bar) => {
        const x0 = GUTTER + Math.max(0, xOf(bar.in, strip));
        const x1 = GUTTER + Math.min(AXIS_WIDTH, xOf(bar.out, strip));
        const source = names.get(bar.source) ?? bar.source;
        const label = x1 - x0 < 40 ? '' : `<text x="${coord(x0 + 4)}" y="${coord(top + 9.5)}" font-size="10" fill="${INK}">${escape(fitText(source, x1 - x0 - 8, 10))}</text>`;
        return `<g><title>${escape(`${name} from ${source}`)}</title><rect x="${coord(x0)}" y="${coord(top)}" width="${coord(Math.max(THINNEST, x1 - x0))}" height="${String(HEIGHT)}" fill="#e4e4e4" stroke="${SOFT}" stroke-width=".75"/>${label}</g>`;
      });
    return `<text x="4" y="${coord(top + 10)}" font-size="12" fill="${INK}">${escape(fitText(name, GUTTER - 8, 12))}</text>${boxes.join('')}`;
  });
  return { svg: drawn.length === 0 ? '' : `<g class="sound">${drawn.join('')}</g>`, bottom: y + rows.length * ROW };
}
