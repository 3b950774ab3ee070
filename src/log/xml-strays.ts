/** Elements that look as if they were to be rows, and stand where none are read. */
import { nearest } from '../nearest.js';
import type { PathNode } from './xml-index.js';

export interface StrayElement {
  /** Names from the outermost element down, and how many there are. */
  readonly path: string;
  readonly count: number;
  /** Where in the text the first one begins. */
  readonly first: number;
}

/**
 * In linecut's own form (`own`) elements below `cutlog` that are named nearly as `event` or `source` are, that have a time, or that have
 * events in them. In others only what stands beside the rows and is named as they are but for capitals: what else is there, is theirs. Rows in rows
 * are no rows in either.
 */
export function strayElements(tree: PathNode, rowsPath: readonly string[], own: boolean): StrayElement[] {
  const rowName = rowsPath.at(-1) ?? '';
  const beside = [...(tree.at(rowsPath.slice(0, -1))?.children.entries() ?? [])];
  const isStray = own
    ? ([name, node]: (typeof beside)[number]): boolean => nearest(name, KNOWN) !== undefined || hasTime(node) || [...node.all()].some((below) => below.children.has(rowName))
    : ([name]: (typeof beside)[number]): boolean => name.toLowerCase() === rowName.toLowerCase();
  const rows = tree.at(rowsPath);
  const within = rows === undefined ? [] : [...rows.all()].filter((below) => below !== rows && below.path.endsWith(`/${rowName}`));
  const strays = beside.filter(([name, node]) => name !== rowName && !(own && KNOWN.includes(name)) && node.count > 0 && isStray([name, node])).map(([, node]) => node);
  return [...strays, ...within].map(({ path, count, first }) => ({ path, count, first }));
}

/** What `cutlog` has in it. */
const KNOWN = ['event', 'source'];

const hasTime = ({ attributes, children }: PathNode): boolean => attributes.has('time') || children.has('time');
