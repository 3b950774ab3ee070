/**
 * A list as a picture: strips of time with a lane a source, small charts, and every shot in a table below. Plain chart
 * conventions; one self-contained text, the same bytes for the same list, readable without script or network.
 */
import { shotIndexAt } from '../cutlist/record.js';
import { problem, type Report } from '../problems.js';
import { htmlPage } from './html.js';
import { laneKeys, lanesOf, type LaneOf } from './lanes.js';
import { stripsOf } from './scale.js';
import type { PictureInput, Scene, Side } from './scene.js';
import { shotRows } from './shots.js';
import { soundRows } from './sound.js';
import { svgSheet } from './svg.js';

/** More shots than this make no picture: bars thinner than a hair, a table that nobody reads. */
export const MOST_SHOTS = 20_000;

/**
 * Draws one list, or two under one another on one axis. `as` is `svg` (one sheet) or `html` (a page with tables).
 * Problems: `too-large`, `no-events`.
 */
export function drawPicture(inputs: readonly PictureInput[], as: 'svg' | 'html', report: Report): string | undefined {
  for (const { list } of inputs) {
    if (list.shots.length > MOST_SHOTS) {
      report(problem('too-large', `'${list.title}' has ${String(list.shots.length)} shots; a picture holds at most ${String(MOST_SHOTS)}. Draw a part of the list`));
      return undefined;
    }
    if (list.shots.length === 0) {
      report(problem('no-events', `'${list.title}' has no shots, so there is nothing to draw`));
      return undefined;
    }
  }
  const lists = inputs.map((input) => input.list);
  const keys = laneKeys(lists);
  const sides = inputs.map((input, index) => sideOf(input, index === 0 ? 'a' : 'b', keys[index] as LaneOf));
  const scene: Scene = {
    title: inputs.length > 1 ? lists.map((list) => list.title).join(' / ') : (lists[0]?.title ?? ''),
    sides,
    lanes: lanesOf(sides),
    strips: stripsOf(lists),
  };
  return as === 'svg' ? svgSheet(scene) : htmlPage(scene);
}

function sideOf({ list, notes }: PictureInput, key: 'a' | 'b', laneOf: LaneOf): Side {
  const sorted = [...notes].sort((one, other) => (one.at ?? -1) - (other.at ?? -1));
  const remarks = new Map<number, string>();
  for (const note of sorted) {
    if (note.at === undefined) continue;
    const index = shotIndexAt(list.shots, note.at);
    const said = remarks.get(index);
    remarks.set(index, said === undefined ? note.text : `${said}; ${note.text}`);
  }
  return { key, list, laneOf, rows: shotRows(list, remarks), sound: soundRows(list), notes: sorted };
}
