/** The signs along a strip, markers above the lanes, findings and changes below; and the legend of all that is drawn. */
import type { CutList } from '../cutlist/model.js';
import { coord, escape, shorten } from './markup.js';
import { INK, PAPER, SOFT } from './palette.js';
import { fitText, placeLabels, textWidth } from './places.js';
import type { PictureNote, Side } from './scene.js';
import { AXIS_WIDTH, GUTTER, xOf, type Strip } from './scale.js';

const LABEL_ROW = 15;
const NOTE_ROW = 16;
/** Of shapes in the legend, which stand for those of every source. */
const PLAIN = '#8c8c8c';

/** True where a point belongs into a strip: the end of the list, and what lies behind it, into the list's last one. */
const isIn = (at: number, strip: Strip, { frames }: CutList): boolean =>
  at < frames ? at >= strip.from && at < strip.to : frames > strip.from && frames <= strip.to + 1e-6;

/** Markers: a diamond each, its number and words where they have room, else its number where that has; of several on one frame their numbers. */
export function drawMarkers(strip: Strip, list: CutList, y: number): { readonly svg: string; readonly bottom: number } {
  const here = list.markers
    .map((marker, index) => ({ note: marker.note, number: String(index + 1), x: xOf(marker.at, strip), at: marker.at }))
    .filter(({ at }) => isIn(at, strip, list));
  if (here.length === 0) return { svg: '', bottom: y };
  const limit = AXIS_WIDTH + 24;
  // At the right end as much of the words as there is room for.
  const full = here.map(({ x, note, number }) => {
    const text = fitText(`${number} ${shorten(note, 40)}`, Math.max(limit - x - 14, 60), 11);
    return { x, text, width: textWidth(text, 11) + 14 };
  });
  const rows = placeLabels(full, 2, limit);
  const worded = Math.max(0, ...rows.map((row) => (row ?? -1) + 1));
  // Those without words stand in a row of their own, where they cover nobody else's.
  const bare = here.map(({ x, number }, index) => ({ index, x, number })).filter(({ index }) => rows[index] === undefined);
  const numbers = bareNumbers(bare, limit);
  const bottom = y + (worded + (bare.length > 0 ? 1 : 0)) * LABEL_ROW + 8;
  const middle = (index: number): number => y + (rows[index] ?? worded) * LABEL_ROW + 7;
  // Stems first, and words in a white edge: a stem passes behind the words below it.
  const stems = here.map(({ x }, index) => `M${coord(GUTTER + x)} ${coord(middle(index))}V${coord(bottom)}`).join('');
  const marks = here.map(({ x, note, number }, index) => {
    const [at, text] = [GUTTER + x, rows[index] !== undefined ? full[index]?.text : numbers.get(index)];
    const words = text === undefined ? '' : `<text x="${coord(at + 8)}" y="${coord(middle(index) + 4)}" font-size="11" fill="${INK}" stroke="${PAPER}" stroke-width="3" paint-order="stroke">${escape(text)}</text>`;
    return `<g><title>${escape(`Marker ${number}: ${note}`)}</title><path d="M${coord(at)} ${coord(middle(index) - 5)}l5 5l-5 5l-5 -5Z" fill="${INK}"/>${words}</g>`;
  });
  return { svg: `<g class="markers"><path d="${stems}" stroke="${SOFT}"/>${marks.join('')}</g>`, bottom };
}

/**
 * What stands beside the diamonds that have a row to themselves, in order of x, by index: a number, or the numbers of all that lie on one
 * point (`3–40`), where there is room before the next diamond; beside that it would seem to be that one's.
 */
function bareNumbers(bare: readonly { readonly index: number; readonly x: number; readonly number: string }[], limit: number): Map<number, string> {
  const out = new Map<number, string>();
  let first = 0;
  bare.forEach((last, place) => {
    const next = bare[place + 1];
    if (next?.x === last.x) return;
    const from = bare[first] ?? last;
    const text = from === last ? last.number : `${from.number}\u2013${last.number}`;
    if (last.x + textWidth(text, 11) + 14 <= Math.min(next?.x ?? limit, limit)) out.set(last.index, text);
    first = place + 1;
  });
  return out;
}

/** Findings and changes: a triangle (error), a square (warning), a ring (note) or a dot (change), with the code where it has room; signs without stand in a row of their own. */
export function drawNotes(strip: Strip, { list, notes }: Side, y: number): { readonly svg: string; readonly bottom: number } {
  // What lies on the end of the list, or behind it, stands at the end of its last strip.
  const here = notes.flatMap((note) => (note.at !== undefined && isIn(note.at, strip, list) ? [{ ...note, at: note.at }] : []));
  if (here.length === 0) return { svg: '', bottom: y };
  const labels = here.map((note) => ({ x: Math.min(xOf(Math.min(note.at, list.frames), strip), AXIS_WIDTH), width: textWidth(note.code, 10) + 16 }));
  const rows = placeLabels(labels, 2, AXIS_WIDTH + 24);
  const worded = Math.max(0, ...rows.map((row) => (row ?? -1) + 1));
  const used = worded + (rows.includes(undefined) ? 1 : 0);
  const marks = here.map((note, index) => {
    const row = rows[index];
    const at = GUTTER + (labels[index]?.x ?? 0);
    const middle = y + (row ?? worded) * NOTE_ROW + 9;
    const words = row === undefined ? '' : `<text x="${coord(at + 9)}" y="${coord(middle + 4)}" font-size="10" fill="${INK}">${escape(note.code)}</text>`;
    return `<g><title>${escape(`${note.severity}: ${note.text}`)}</title>${sign(note.severity, at, middle)}${words}</g>`;
  });
  return { svg: `<g class="notes">${marks.join('')}</g>`, bottom: y + used * NOTE_ROW + 4 };
}

function sign(severity: PictureNote['severity'], x: number, y: number): string {
  if (severity === 'error') return `<path d="M${coord(x)} ${coord(y - 6)}l6 11h-12Z" fill="#D55E00" stroke="${INK}"/>`;
  if (severity === 'warning') return `<rect x="${coord(x - 5)}" y="${coord(y - 5)}" width="10" height="10" fill="#F0E442" stroke="${INK}"/>`;
  return `<circle cx="${coord(x)}" cy="${coord(y)}" r="4.5" fill="${severity === 'change' ? INK : PAPER}" stroke="${INK}" stroke-width="1.5"/>`;
}

/** Width and height of a shape of the legend. */
export const LEGEND_SHAPE = [20, 16] as const;

/** The shapes that are drawn, and what each means. */
export function legendOf(sides: readonly Side[]): (readonly [shape: string, text: string])[] {
  const has = (severity: PictureNote['severity']): boolean => sides.some(({ notes }) => notes.some((note) => note.severity === severity));
  const mixed = (kind: 'dissolve' | 'wipe'): boolean => sides.some(({ list }) => list.shots.some(({ transition }) => transition?.kind === kind));
  const wedge = (style: string): string => `<path d="M0 14L20 2V14Z" fill="${PLAIN}" stroke="${INK}" stroke-width=".75"${style}/>`;
  return [
    [`<rect y="2" width="20" height="12" fill="${PLAIN}" stroke="${INK}" stroke-width=".75"/>`, 'shot'],
    ...(mixed('dissolve') ? [[wedge(''), 'dissolve'] as [string, string]] : []),
    ...(mixed('wipe') ? [[wedge(' stroke-dasharray="3 2"'), 'wipe'] as [string, string]] : []),
    ...(sides.some(({ list }) => list.markers.length > 0) ? [[`<path d="M10 3l5 5l-5 5l-5 -5Z" fill="${INK}"/>`, 'marker'] as [string, string]] : []),
    ...(sides.some(({ list }) => list.takes.length > 1) ? [[`<path d="M10 0V16" stroke="${INK}" stroke-width="2" stroke-dasharray="2 3"/>`, 'begin of a take'] as [string, string]] : []),
    ...(['error', 'warning', 'note', 'change'] as const).filter(has).map((severity): [string, string] => [sign(severity, 10, 8), severity]),
  ];
}
