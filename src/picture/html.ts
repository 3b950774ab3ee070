/** A picture as a page: strips that scroll where the window is narrow, charts, and real tables below. */
import { drawLengths, drawScreenTime, FIGURE_WIDTH } from './figures.js';
import { coord, escape } from './markup.js';
import { INK, PAPER, RULE, SOFT } from './palette.js';
import { MARKER_COLUMNS, markerRows, noteCaption, NOTE_COLUMNS, noteRows } from './remarks.js';
import type { Scene, Side } from './scene.js';
import { SHOT_COLUMNS } from './shots.js';
import { LEGEND_SHAPE, legendOf } from './signs.js';
import { drawStrip, STRIP_WIDTH } from './strip.js';
import { summaryText } from './summary.js';

const STYLE = `
:root{color-scheme:light}
body{margin:0 auto;max-width:1240px;padding:16px 20px 60px;font:15px/1.45 system-ui,sans-serif;color:${INK};background:${PAPER}}
h1{font-size:1.5rem;margin:.2em 0}h2{font-size:1.1rem;margin:1.6em 0 .4em}
h1,p{overflow-wrap:anywhere}p{margin:.3em 0}.soft{color:${SOFT}}
.strip{overflow-x:auto;margin:0 0 14px}.strip svg{display:block;min-width:960px;width:100%;height:auto}
svg{font-family:system-ui,sans-serif;background:${PAPER};forced-color-adjust:none}.charts{display:flex;flex-wrap:wrap;align-items:flex-start;gap:12px 40px}.charts svg{width:${String(FIGURE_WIDTH)}px;max-width:100%;height:auto}
.scroll{overflow-x:auto}
.legend{display:flex;flex-wrap:wrap;gap:2px 18px;margin:.3em 0 .8em;padding:0;list-style:none;font-size:13px}.legend svg{vertical-align:-3px}
table{border-collapse:collapse;font-variant-numeric:tabular-nums;font-size:13px}
caption{text-align:left;font-weight:600;padding:.4em 0}
th,td{text-align:left;padding:3px 12px 3px 0;border-bottom:1px solid ${RULE};vertical-align:top}
tr:target{background:#fff3bf}
a:focus-visible,.strip:focus-visible,.scroll:focus-visible{outline:3px solid ${INK};outline-offset:2px}
.strip a:focus-visible rect,.strip a:focus-visible path{stroke-width:3}
.skip{position:absolute;left:-999px}.skip:focus{position:static}
@media print{
body{max-width:none;padding:0}.strip,.scroll{overflow:visible}.strip svg{min-width:0}
table{width:100%;font-size:11px}th,td{padding-right:8px}
tr[id] td:nth-child(2),td:last-child:not(:empty){overflow-wrap:anywhere;min-width:7em}
}
`.trim();

/** The whole page. */
export function htmlPage(scene: Scene): string {
  const { sides } = scene;
  const two = sides.length > 1;
  const strips = scene.strips.map((strip, index) => {
    const { svg, height } = drawStrip(strip, sides, scene.lanes);
    const name = `Timeline, part ${String(index + 1)} of ${String(scene.strips.length)}`;
    return `<div class="strip" tabindex="0" role="group" aria-label="${name}"><svg viewBox="0 0 ${String(STRIP_WIDTH)} ${coord(height)}" role="group" aria-label="${name}">\n${svg}\n</svg></div>`;
  });
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escape(scene.title)}</title>
<link rel="icon" href="data:,">
<style>${STYLE}</style>
</head>
<body>
<a class="skip" href="#tables">To the table of shots</a>
<main>
<h1>${escape(scene.title)}</h1>
${sides.map((side) => `<p>${escape((two ? `${side.key.toUpperCase()}: ` : '') + summaryText(side.list))}</p>`).join('\n')}
<h2>Timeline</h2>
<p class="soft">A lane a source. Each bar leads to its row in the table.</p>
${legend(sides)}
${strips.join('\n')}
<h2>Figures</h2>
${sides.map((side) => charts(side, scene, two)).join('\n')}
<div id="tables">
${sides.map((side) => tables(side, two)).join('\n')}
</div>
</main>
</body>
</html>
`;
}

function legend(sides: readonly Side[]): string {
  const [width, height] = LEGEND_SHAPE.map(String) as [string, string];
  return `<ul class="legend">${legendOf(sides).map(([shape, text]) => `<li><svg width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" aria-hidden="true">${shape}</svg> ${text}</li>`).join('')}</ul>`;
}

function charts(side: Side, scene: Scene, two: boolean): string {
  const named = two ? `${side.key.toUpperCase()}: ` : '';
  const figure = (name: string, { svg, height }: { svg: string; height: number }): string =>
    `<svg viewBox="0 0 ${String(FIGURE_WIDTH)} ${coord(height)}" role="img" aria-label="${named}${name}">${svg}</svg>`;
  return `<div class="charts">${figure('screen time a source', drawScreenTime(side, scene.lanes, `${named}Screen time`))}${figure('shots by length', drawLengths(side.list, `${named}Shots by length`))}</div>`;
}

function tables(side: Side, two: boolean): string {
  const of = two ? ` of list ${side.key.toUpperCase()}` : '';
  const parts: string[] = [];
  const [notes, markers] = [noteRows(side), markerRows(side)];
  if (notes.length > 0) parts.push(table(`${noteCaption(two)}${of}`, NOTE_COLUMNS, notes));
  if (markers.length > 0) parts.push(table(`Markers${of}`, MARKER_COLUMNS, markers));
  parts.push(table(`Shots${of}`, SHOT_COLUMNS, side.rows.map((row) => row.cells), (index) => `${side.key}${String(index + 1)}`));
  return parts.join('\n');
}

function table(caption: string, heads: readonly string[], rows: readonly (readonly string[])[], id?: (index: number) => string): string {
  const head = heads.map((name) => `<th scope="col">${name}</th>`).join('');
  const body = rows.map((cells, index) => `<tr${id === undefined ? '' : ` id="${id(index)}"`}>${cells.map((cell) => `<td>${escape(cell)}</td>`).join('')}</tr>`);
  return `<div class="scroll" tabindex="0" role="group" aria-label="${escape(caption)}"><table><caption>${escape(caption)}</caption><thead><tr>${head}</tr></thead><tbody>\n${body.join('\n')}\n</tbody></table></div>`;
}
