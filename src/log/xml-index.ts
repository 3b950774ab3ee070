/** One pass over an XML log: is it well-formed, which elements and attributes are there, and where its rows stand. */
import { scanXml, type XmlEvents, type XmlFault } from './xml-scan.js';
import { attributeValue, isSpace } from './xml-text.js';

/** Distinct elements and attributes that are remembered, outside rows and in them; a log has a few dozen. */
const MOST_PATHS = 5_000;

/** Where the elements of one path stand: text[starts[i], ends[i]). */
export interface Spans {
  readonly starts: number[];
  readonly ends: number[];
}

/** The elements of one path: how many, and what they hold, in order of appearance. */
export class PathNode {
  count = 0;
  readonly children = new Map<string, PathNode>();
  readonly attributes = new Set<string>();
  /** True when an element of this path holds text of its own. */
  hasText = false;
  /** Kept for the paths that were asked for. */
  spans: Spans | undefined;

  /** `inRow`: the elements of a wanted path, and those inside them. `first`: where the first element of this path begins. */
  constructor(
    readonly path: string,
    public inRow = false,
    readonly first = 0,
  ) {}

  /** The node below, by names of elements; undefined where there is none. */
  at(steps: readonly string[]): PathNode | undefined {
    return steps.reduce<PathNode | undefined>((node, step) => node?.children.get(step), this);
  }

  /** This node and all below it, in order of appearance. */
  *all(): Generator<PathNode> {
    yield this;
    for (const child of this.children.values()) yield* child.all();
  }
}

export interface XmlIndex {
  /** The document itself; its only child is the outermost element. */
  readonly tree: PathNode;
  readonly root: string;
  /** The outermost element's attributes, references resolved. */
  readonly attributes: ReadonlyMap<string, string>;
  /** True when a name has a namespace prefix. */
  readonly prefixed: boolean;
}

/**
 * Checks a whole document and notes where the elements of the `wanted` paths (names from the outermost element down)
 * stand. More than `most` elements of one of them is a fault (`too-large`).
 */
export function indexXml(text: string, wanted: readonly (readonly string[])[], most: number): XmlIndex | XmlFault {
  const indexer = new Indexer(text, most);
  for (const path of wanted) indexer.want(path);
  return scanXml(text, indexer) ?? indexer.index;
}

class Indexer implements XmlEvents {
  readonly #tree = new PathNode('');
  readonly #attributes = new Map<string, string>();
  #root = '';
  /** How many paths are known outside rows, and in them: rows do not lose theirs to what stands around them. */
  readonly #known = { outside: 0, inRow: 0 };
  #prefixed = false;
  /** Nodes of the open elements; the last one is the innermost. */
  #open: PathNode[] = [this.#tree];
  /** Where paths beyond the limit end up. */
  readonly #rest = new PathNode('…');

  constructor(
    private readonly text: string,
    private readonly most: number,
  ) {}

  get index(): XmlIndex {
    return { tree: this.#tree, root: this.#root, attributes: this.#attributes, prefixed: this.#prefixed };
  }

  /** Makes the node of a path beforehand, so that its elements are never among those that are forgotten. */
  want(path: readonly string[]): void {
    let node = this.#tree;
    for (const name of path) {
      const below = node.children.get(name) ?? new PathNode(`${node.path}/${name}`);
      node.children.set(name, below);
      node = below;
    }
    node.inRow = true;
    node.spans = { starts: [], ends: [] };
  }

  readonly open = (name: string, at: number): XmlFault | undefined => {
    const parent = this.#open.at(-1) ?? this.#rest;
    const node = parent.children.get(name) ?? this.#newNode(parent, name, at);
    if (parent === this.#tree) this.#root = name;
    node.count += 1;
    if (node.spans !== undefined) {
      if (node.count > this.most) return { code: 'too-large', message: `the log has more than ${String(this.most)} rows; raise the limit with --max-rows`, offset: at };
      node.spans.starts.push(at);
    }
    this.#open.push(node);
    return undefined;
  };

  readonly attribute = (name: string, from: number, to: number): void => {
    const node = this.#open.at(-1) ?? this.#rest;
    if (this.#open.length === 2 && node !== this.#rest) this.#attributes.set(name, attributeValue(this.text.slice(from, to)));
    if (!node.attributes.has(name) && this.#remembers(node)) node.attributes.add(name);
  };

  readonly characters = (from: number, to: number): void => {
    const node = this.#open.at(-1);
    if (node === undefined || node.hasText) return;
    for (let at = from; at < to; at += 1) {
      if (isSpace(this.text.charCodeAt(at))) continue;
      node.hasText = true;
      return;
    }
  };

  readonly close = (end: number): void => {
    this.#open.pop()?.spans?.ends.push(end);
  };

  readonly prefix = (): void => {
    this.#prefixed = true;
  };

  #newNode(parent: PathNode, name: string, at: number): PathNode {
    if (!this.#remembers(parent)) return this.#rest;
    const node = new PathNode(`${parent.path}/${name}`, parent.inRow, at);
    parent.children.set(name, node);
    return node;
  }

  /** Whether one more path below `node` is remembered. */
  #remembers(node: PathNode): boolean {
    const where = node.inRow ? 'inRow' : 'outside';
    if (node === this.#rest || this.#known[where] >= MOST_PATHS) return false;
    this.#known[where] += 1;
    return true;
  }
}
