/** A picture as one SVG sheet (W3C SVG 1.1): the strips under one another, the charts, the table of shots as text. */
import { drawLengths, drawScreenTime, FIGURE_WIDTH } from './figures.js';
import { coord, escape, shorten } from './markup.js';
import { INK, PAPER, RULE, SOFT } from './palette.js';
import type { Scene, Side } from './scene.js';
import { SHOT_COLUMNS } from './shots.js';
import { drawStrip, STRIP_WIDTH } from './strip.js';
import { summaryText } from './summary.js';

const MARGIN = 20;
const ROW = 17;
/** Left ends of the table's columns, and how many characters each holds. */
const COLUMNS = [0, 46, 190, 280, 370, 460, 520, 590, 760];
const ROOM = [6, 22, 12, 12, 12, 8, 9, 26, 66];

/** The whole sheet. */
export function svgSheet(scene: Scene): string {
  const width = STRIP_WIDTH + 2 * MARGIN;
  const parts: string[] = [];
  let y = MARGIN + 22;
  parts.push(`<text x="${String(MARGIN)}" y="${String(y)}" font-size="20" font-weight="bold">${escape(shorten(scene.title, 90))}</text>`);
  for (const side of scene.sides) {
    y += 22;
    parts.push(`<text x="${String(MARGIN)}" y="${String(y)}" font-size="13">${escape((scene.sides.length > 1 ? `${side.key.toUpperCase()}: ` : '') + summaryText(side.list))}</text>`);
  }
  y += 18;
  scene.strips.forEach((strip, index) => {
    const { svg, height } = drawStrip(strip, scene.sides, scene.lanes);
    parts.push(`<g class="strip" role="group" aria-label="Timeline, part ${String(index + 1)} of ${String(scene.strips.length)}" transform="translate(${String(MARGIN)} ${coord(y)})">\n${svg}\n</g>`);
    y += height + 16;
  });
  for (const side of scene.sides) {
    const named = scene.sides.length > 1 ? `${side.key.toUpperCase()}: ` : '';
    const times = drawScreenTime(side.list, scene.lanes, `${named}Screen time`);
    const lengths = drawLengths(side.list, `${named}Shots by length`);
    parts.push(`<g transform="translate(${String(MARGIN)} ${coord(y)})">${times.svg}<g transform="translate(${String(FIGURE_WIDTH + 40)} 0)">${lengths.svg}</g></g>`);
    y += Math.max(times.height, lengths.height) + 16;
  }
  for (const side of scene.sides) {
    const drawn = shotTable(side, y, scene.sides.length > 1);
    parts.push(drawn.svg);
    y = drawn.bottom + 20;
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

function shotTable(side: Side, from: number, two: boolean): { readonly svg: string; readonly bottom: number } {
  let y = from + 16;
  const caption = `Shots${two ? ` of list ${side.key.toUpperCase()}` : ''}`;
  const parts = [`<text x="0" y="${coord(y)}" font-size="13" font-weight="bold">${caption}</text>`];
  y += ROW + 2;
  parts.push(`<g role="row" fill="${SOFT}">${SHOT_COLUMNS.map((name, index) => `<text role="columnheader" x="${String(COLUMNS[index] ?? 0)}" y="${coord(y)}">${name}</text>`).join('')}</g>`);
  for (const row of side.rows) {
    y += ROW;
    const cells = row.cells.map((cell, index) => (cell === '' ? '' : `<text role="cell" x="${String(COLUMNS[index] ?? 0)}" y="${coord(y)}">${escape(shorten(cell, ROOM[index] ?? 20))}</text>`));
    parts.push(`<g role="row" id="${side.key}${String(row.number)}">${cells.join('')}</g>`);
  }
  parts.push(`<path d="M0 ${coord(y + 6)}H${String(STRIP_WIDTH)}" stroke="${RULE}"/>`);
  return { svg: `<g role="table" aria-label="${caption}" font-size="12" transform="translate(${String(MARGIN)} 0)">${parts.join('\n')}</g>`, bottom: y + 8 };
}
