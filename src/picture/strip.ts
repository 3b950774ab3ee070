/** One strip of the timeline as SVG: two time axes, the lanes of each list, sound, takes, markers and findings. */
import { realSeconds } from '../timecode/rate.js';
import type { CutList, Shot } from '../cutlist/model.js';
import { recordLabel } from '../cutlist/record.js';
import { lanesIn, NAME_SIZE, type Lane } from './lanes.js';
import { coord, escape } from './markup.js';
import { INK, inkOn, RULE, SOFT } from './palette.js';
import type { Side } from './scene.js';
import { fitText, placeLabels, textWidth } from './places.js';
import { AXIS_WIDTH, clockText, GUTTER, THINNEST, ticksOf, xOf, type Strip } from './scale.js';
import type { ShotRow } from './shots.js';
import { drawMarkers, drawNotes } from './signs.js';
import { drawSound } from './sound.js';

export const STRIP_WIDTH = GUTTER + AXIS_WIDTH + 28;

const AXIS_ROW = 20;
const LABEL_ROW = 15;
const LANE = 24;
const LANE_GAP = 4;

/** Draws one strip. `sides` are one or two lists with what belongs to them. */
export function drawStrip(strip: Strip, sides: readonly Side[], lanes: readonly Lane[]): { readonly svg: string; readonly height: number } {
  const first = sides[0] as Side;
  const parts: string[] = [];
  let y = 0;
  parts.push(axis(strip, first.list, y, 'timecode'));
  y += AXIS_ROW;
  const top = y;
  const parted = sides.map((side) => ({ side, own: stripOf(strip, first.list, side.list) }));
  const held = lanesIn(lanes, parted.map(({ side, own }) => ({ ...side, ...own })));
  for (const { side, own } of parted) {
    const drawn = drawSide(own, side, held, y, { named: sides.length > 1, axis: isElsewhere(side.list, first.list), without: lanes.length - held.length });
    parts.push(drawn.svg);
    y = drawn.bottom;
  }
  parts.unshift(grid(strip, first.list, top, y));
  parts.push(axis(strip, first.list, y, 'elapsed'));
  return { svg: parts.join('\n'), height: y + AXIS_ROW };
}

/** True where a list has other labels on its record side than the one whose axis stands above: another start, another count. */
const isElsewhere = (list: CutList, first: CutList): boolean =>
  list !== first && (list.recordStart !== first.recordStart || list.count.rate !== first.count.rate || list.count.dropFrame !== first.count.dropFrame);

/** The same stretch of real time in frames of another list, not always whole ones. */
function stripOf(strip: Strip, first: CutList, { count: { rate } }: CutList): Strip {
  if (rate === first.count.rate) return strip;
  const framesOf = (frame: number): number => (realSeconds(frame, first.count.rate) * rate.num) / rate.den;
  return { from: framesOf(strip.from), to: framesOf(strip.to), span: framesOf(strip.span) };
}

function axis(strip: Strip, list: CutList, y: number, kind: 'timecode' | 'elapsed'): string {
  const ticks = ticksOf(strip, list.count.rate, 104);
  const tenths = ticks.length > 1 && (ticks[1]?.seconds ?? 0) - (ticks[0]?.seconds ?? 0) < 1;
  const base = kind === 'timecode' ? y + AXIS_ROW : y;
  const name = kind === 'timecode' ? 'Record' : 'Elapsed';
  let free = 0;
  const labels = ticks
    .map((tick) => {
      const x = GUTTER + xOf(tick.frame, strip);
      const text = kind === 'timecode' ? recordLabel(list, tick.frame) : clockText(tick.seconds, tenths);
      // A label at the far end would run out of the picture: it reads to the left of its tick.
      const anchor = x + 80 > STRIP_WIDTH ? 'end' : 'start';
      const shift = anchor === 'end' ? -3 : 3;
      const clash = anchor === 'end' && x - 80 < free;
      free = x + 80;
      const tickLine = `<path d="M${coord(x)} ${coord(base)}v${kind === 'timecode' ? '-8' : '8'}" stroke="${INK}"/>`;
      return clash ? tickLine : `${tickLine}<text x="${coord(x + shift)}" y="${coord(kind === 'timecode' ? y + 13 : y + 14)}" text-anchor="${anchor}">${text}</text>`;
    })
    .join('');
  return `<g class="axis ${kind}" font-size="11" fill="${INK}"><text x="4" y="${coord(y + 13)}" fill="${SOFT}">${name}</text><path d="M${String(GUTTER)} ${coord(base)}h${String(AXIS_WIDTH)}" stroke="${INK}"/>${labels}</g>`;
}

function grid(strip: Strip, list: CutList, top: number, bottom: number): string {
  const lines = ticksOf(strip, list.count.rate, 104).map((tick) => `M${coord(GUTTER + xOf(tick.frame, strip))} ${coord(top)}V${coord(bottom)}`);
  return `<path class="grid" d="${lines.join('')}" stroke="${RULE}" fill="none"/>`;
}

function drawSide(strip: Strip, side: Side, lanes: readonly Lane[], from: number, shows: { readonly named: boolean; readonly axis: boolean; readonly without: number }): { readonly svg: string; readonly bottom: number } {
  const { list } = side;
  let y = from;
  const parts: string[] = [];
  if (shows.named) {
    parts.push(`<text class="side" x="4" y="${coord(y + 14)}" font-size="12" font-weight="bold" fill="${INK}">${escape(fitText(`${side.key.toUpperCase()}  ${list.title}`, STRIP_WIDTH - 8, 12))}</text>`);
    y += 20;
  }
  if (shows.axis) {
    parts.push(axis(strip, list, y, 'timecode'));
    y += AXIS_ROW;
  }
  const markers = drawMarkers(strip, list, y);
  parts.push(markers.svg);
  y = markers.bottom;
  if (list.takes.length > 1) {
    parts.push(takeNames(strip, list, y));
    y += LABEL_ROW;
  }
  const laneTop = y;
  const rows = new Map(lanes.map((lane, index): [string, Row] => [lane.key, { top: laneTop + LANE_GAP + index * (LANE + LANE_GAP), fill: lane.fill }]));
  for (const lane of lanes) {
    const row = rows.get(lane.key)?.top ?? laneTop;
    parts.push(`<g><title>${escape(lane.name)}</title><text class="lane" x="4" y="${coord(row + 16)}" font-size="${String(NAME_SIZE)}" fill="${INK}">${escape(lane.short)}</text></g>`);
  }
  y = laneTop + LANE_GAP + lanes.length * (LANE + LANE_GAP);
  if (shows.without > 0) {
    parts.push(`<text class="without" x="4" y="${coord(y + 11)}" font-size="11" fill="${SOFT}">${String(shows.without)} more ${shows.without === 1 ? 'lane holds' : 'lanes hold'} nothing in this part</text>`);
    y += LABEL_ROW + LANE_GAP;
  }
  parts.push(drawShots(strip, side, (source) => rows.get(side.laneOf(source))));
  const sound = drawSound(strip, list, side.sound, y);
  parts.push(sound.svg);
  y = sound.bottom;
  parts.push(drawTakes(strip, list, laneTop, y));
  const notes = drawNotes(strip, side, y);
  parts.push(notes.svg);
  return { svg: `<g class="list">${parts.join('\n')}</g>`, bottom: notes.bottom + 4 };
}

/** A lane where it is drawn. */
interface Row {
  readonly top: number;
  readonly fill: string;
}

type RowOf = (source: string) => Row | undefined;

function drawShots(strip: Strip, side: Side, rowOf: RowOf): string {
  const { shots } = side.list;
  const clip = (frame: number): number => GUTTER + Math.min(AXIS_WIDTH, Math.max(0, xOf(frame, strip)));
  const out: string[] = [];
  shots.forEach((shot, index) => {
    if (shot.out <= strip.from || shot.in >= strip.to) return;
    const row = rowOf(shot.source);
    if (row === undefined) return;
    const { top, fill } = row;
    const mixed = shot.in + (shot.transition?.frames ?? 0);
    const shapes: string[] = [];
    if (shot.transition !== undefined && mixed > strip.from) {
      const before = shots[index - 1];
      shapes.push(...drawMix(strip, shot, row, before === undefined ? undefined : rowOf(before.source)));
    }
    const [x0, x1] = [clip(mixed), clip(shot.out)];
    if (shot.out > strip.from && mixed < shot.out && mixed < strip.to) {
      const width = Math.max(THINNEST, x1 - x0);
      shapes.push(`<rect x="${coord(x0)}" y="${coord(top)}" width="${coord(width)}" height="${String(LANE)}" fill="${fill}" stroke="${INK}" stroke-width=".75"/>`);
      const number = String(index + 1);
      if (width >= textWidth(number, 11) + 4) {
        shapes.push(`<text x="${coord(x0 + width / 2)}" y="${coord(top + 16)}" text-anchor="middle" font-size="11" fill="${inkOn(fill)}">${number}</text>`);
      }
    }
    const title = (side.rows[index] as ShotRow).sentence;
    out.push(`<a href="#${side.key}${String(index + 1)}"><title>${escape(title)}</title>${shapes.join('')}</a>`);
  });
  return `<g class="shots">${out.join('\n')}</g>`;
}

/** A mix: the new source's bar grows over the mix's frames, the old one's shrinks; a wipe has a broken outline. */
function drawMix(strip: Strip, shot: Shot, row: Row, before: Row | undefined): string[] {
  const frames = shot.transition?.frames ?? 1;
  const from = Math.max(shot.in, strip.from);
  const to = Math.min(shot.in + frames, strip.to);
  const share = (frame: number): number => (frame - shot.in) / frames;
  const [x0, x1] = [GUTTER + xOf(from, strip), Math.max(GUTTER + xOf(to, strip), GUTTER + xOf(from, strip) + THINNEST)];
  const [h0, h1] = [LANE * share(from), LANE * share(to)];
  const style = `stroke="${INK}" stroke-width=".75"${shot.transition?.kind === 'wipe' ? ' stroke-dasharray="3 2"' : ''}`;
  const bottom = row.top + LANE;
  const shapes = [`<path class="mix" d="M${coord(x0)} ${coord(bottom)}V${coord(bottom - h0)}L${coord(x1)} ${coord(bottom - h1)}V${coord(bottom)}Z" fill="${row.fill}" ${style}/>`];
  if (before !== undefined && before !== row) {
    const oldBottom = before.top + LANE;
    shapes.push(`<path class="mix" d="M${coord(x0)} ${coord(oldBottom)}V${coord(before.top + h0)}L${coord(x1)} ${coord(before.top + h1)}V${coord(oldBottom)}Z" fill="${before.fill}" ${style}/>`);
  }
  return shapes;
}

function drawTakes(strip: Strip, list: CutList, top: number, bottom: number): string {
  if (list.takes.length < 2) return '';
  const lines = list.takes.flatMap((take) => {
    if (take.in < strip.from || take.in >= strip.to) return [];
    return [`<path d="M${coord(GUTTER + xOf(take.in, strip))} ${coord(top - LABEL_ROW)}V${coord(bottom)}" stroke="${INK}" stroke-width="2" stroke-dasharray="2 3"/>`];
  });
  return `<g class="takes">${lines.join('')}</g>`;
}

function takeNames(strip: Strip, list: CutList, y: number): string {
  const here = list.takes.map((take, index) => ({ take, name: `Take ${String(index + 1)}` })).filter(({ take }) => take.in >= strip.from && take.in < strip.to);
  const labels = here.map(({ take, name }) => ({ x: xOf(take.in, strip), width: textWidth(name, 10) + 8 }));
  const rows = placeLabels(labels, 1, AXIS_WIDTH + 24);
  const names = here.map(({ name }, index) => (rows[index] === undefined ? '' : `<text x="${coord(GUTTER + (labels[index]?.x ?? 0) + 4)}" y="${coord(y + 11)}">${name}</text>`));
  return `<g class="takes" font-size="10" fill="${INK}">${names.join('')}</g>`;
}
