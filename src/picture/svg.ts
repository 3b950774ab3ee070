/** A picture as one SVG sheet (W3C SVG 1.1): the strips under one another, the charts, the tables as text. */
import { drawLengths, drawScreenTime, FIGURE_WIDTH } from './figures.js';
import { coord, escape } from './markup.js';
import { INK, PAPER, RULE, SOFT } from './palette.js';
import { fitText, textWidth, wrapText } from './places.js';
import { MARKER_COLUMNS, markerRows, noteCaption, NOTE_COLUMNS, noteRows } from './remarks.js';
import type { Scene, Side } from './scene.js';
import { SHOT_COLUMNS } from './shots.js';
import { LEGEND_SHAPE, legendOf } from './signs.js';
import { drawStrip, STRIP_WIDTH } from './strip.js';
import { summaryText } from './summary.js';

const MARGIN = 20;
const ROW = 17;
const SIZE = 12;
/** Left ends of the columns of the tables; the last column of findings and markers has as many lines as it needs. */
const SHOT_LEFT = [0, 46, 190, 280, 370, 460, 520, 590, 760];
const NOTE_LEFT = [0, 90, 160, 320];
const MARKER_LEFT = [0, 60, 150, 240];

/** The whole sheet. */
export function svgSheet(scene: Scene): string {
  const width = STRIP_WIDTH + 2 * MARGIN;
  const parts: string[] = [];
  let y = MARGIN + 22;
  parts.push(`<text x="${String(MARGIN)}" y="${String(y)}" font-size="20" font-weight="bold">${escape(fitText(scene.title, STRIP_WIDTH, 20))}</text>`);
  for (const side of scene.sides) {
    y += 22;
    parts.push(`<text x="${String(MARGIN)}" y="${String(y)}" font-size="13">${escape((scene.sides.length > 1 ? `${side.key.toUpperCase()}: ` : '') + summaryText(side.list))}</text>`);
  }
  y += 18;
  parts.push(legend(scene.sides, y));
  y += 30;
  scene.strips.forEach((strip, index) => {
    const { svg, height } = drawStrip(strip, scene.sides, scene.lanes);
    parts.push(`<g class="strip" role="group" aria-label="Timeline, part ${String(index + 1)} of ${String(scene.strips.length)}" transform="translate(${String(MARGIN)} ${coord(y)})">\n${svg}\n</g>`);
    y += height + 16;
  });
  for (const side of scene.sides) {
    const named = scene.sides.length > 1 ? `${side.key.toUpperCase()}: ` : '';
    const times = drawScreenTime(side, scene.lanes, `${named}Screen time`);
    const lengths = drawLengths(side.list, `${named}Shots by length`);
    parts.push(`<g transform="translate(${String(MARGIN)} ${coord(y)})">${times.svg}<g transform="translate(${String(FIGURE_WIDTH + 40)} 0)">${lengths.svg}</g></g>`);
    y += Math.max(times.height, lengths.height) + 16;
  }
  for (const side of scene.sides) {
    for (const table of tablesOf(side, scene.sides.length > 1)) {
      const drawn = drawTable(table, y);
      parts.push(drawn.svg);
      y = drawn.bottom + 20;
    }
  }
  const height = coord(y + MARGIN);
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${String(width)}" height="${height}" viewBox="0 0 ${String(width)} ${height}" font-family="system-ui,sans-serif" role="group" aria-label="${escape(scene.title)}">
<title>${escape(scene.title)}</title>
<style>a:focus-visible rect,a:focus-visible path{stroke-width:3}text{white-space:pre}</style>
<rect width="100%" height="100%" fill="${PAPER}"/>
<g fill="${INK}">
${parts.join('\n')}
</g>
</svg>
`;
}

/** What each shape means, on one line. */
function legend(sides: readonly Side[], y: number): string {
  const [width] = LEGEND_SHAPE;
  let x = MARGIN + 4;
  const items = legendOf(sides).map(([shape, text]) => {
    const item = `<g transform="translate(${coord(x)} ${coord(y + 2)})">${shape}<text x="${String(width + 6)}" y="12">${text}</text></g>`;
    x += width + 24 + textWidth(text, SIZE);
    return item;
  });
  return `<g class="legend" font-size="${String(SIZE)}">${items.join('')}</g>`;
}

interface Table {
  readonly caption: string;
  readonly heads: readonly string[];
  readonly left: readonly number[];
  readonly rows: readonly { readonly cells: readonly string[]; readonly id?: string }[];
  /** The last column is wrapped instead of cut off. */
  readonly wraps: boolean;
}

/** What is said of a list, its markers, its shots: the same tables as on a page. */
function tablesOf(side: Side, two: boolean): Table[] {
  const of = two ? ` of list ${side.key.toUpperCase()}` : '';
  const tables: Table[] = [];
  const [notes, markers] = [noteRows(side), markerRows(side)];
  if (notes.length > 0) tables.push({ caption: `${noteCaption(two)}${of}`, heads: NOTE_COLUMNS, left: NOTE_LEFT, rows: notes.map((cells) => ({ cells })), wraps: true });
  if (markers.length > 0) tables.push({ caption: `Markers${of}`, heads: MARKER_COLUMNS, left: MARKER_LEFT, rows: markers.map((cells) => ({ cells })), wraps: true });
  tables.push({ caption: `Shots${of}`, heads: SHOT_COLUMNS, left: SHOT_LEFT, rows: side.rows.map(({ cells, number }) => ({ cells, id: `${side.key}${String(number)}` })), wraps: false });
  return tables;
}

function drawTable({ caption, heads, left, rows, wraps }: Table, from: number): { readonly svg: string; readonly bottom: number } {
  let y = from + 16;
  const room = (column: number): number => (left[column + 1] ?? STRIP_WIDTH) - (left[column] ?? 0) - 8;
  const text = (role: string, column: number, words: string, at: number): string =>
    words === '' ? '' : `<text role="${role}" x="${String(left[column] ?? 0)}" y="${coord(at)}">${escape(fitText(words, room(column), SIZE))}</text>`;
  const parts = [`<text x="0" y="${coord(y)}" font-size="13" font-weight="bold">${escape(caption)}</text>`];
  y += ROW + 2;
  parts.push(`<g role="row" fill="${SOFT}">${heads.map((name, column) => text('columnheader', column, name, y)).join('')}</g>`);
  for (const { cells, id } of rows) {
    y += ROW;
    const last = cells.length - 1;
    const [line = '', ...further] = wraps ? wrapText(cells[last] ?? '', room(last), SIZE) : [cells[last] ?? ''];
    const drawn = cells.map((cell, column) => text('cell', column, column === last ? line : cell, y));
    for (const more of further) drawn.push(text('cell', last, more, (y += ROW)));
    parts.push(`<g role="row"${id === undefined ? '' : ` id="${id}"`}>${drawn.join('')}</g>`);
  }
  parts.push(`<path d="M0 ${coord(y + 6)}H${String(STRIP_WIDTH)}" stroke="${RULE}"/>`);
  return { svg: `<g role="table" aria-label="${escape(caption)}" font-size="${String(SIZE)}" transform="translate(${String(MARGIN)} 0)">${parts.join('\n')}</g>`, bottom: y + 8 };
}
