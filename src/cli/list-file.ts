/** Reading lists for commands that write none: the file, the show file beside it, the options that say how a log is read. */
import { resolve } from 'node:path';
import type { EdlPart } from '../formats/edl/document.js';
import { known } from '../known.js';
import { formOf, type Form } from '../formats/form.js';
import { decodedText } from '../file-text.js';
import { loadLists, type LoadInput, type LoadOptions } from '../load.js';
import { MAX_BYTES } from '../log/limits.js';
import type { CutList } from '../cutlist/model.js';
import { placedIn, problem, type Problem, type Report } from '../problems.js';
import type { Adjusting } from './adjusting.js';
import { CORRECTIONS, MAPPING, readByHand, SHOW_FILE, type ByHand, type GivenShow } from './by-hand.js';
import type { Values } from './command.js';
import { otherParts, textsOfParts } from './edl-parts.js';
import { bytesOf, tooMuchInput } from './input.js';
import type { Io } from './io.js';
import { loadOptions } from './loading.js';
import { listName, readHere, spokenName, STANDARD } from './names.js';
import * as option from './options.js';
import { saveText } from './save.js';
import { showBeside } from './show-beside.js';

/** What was read of a file. */
export interface Lists {
  readonly form: Form | undefined;
  readonly lists: readonly CutList[];
}

export class ListFiles {
  readonly #shows = new Map<string | undefined, Promise<GivenShow | 'wrong' | undefined>>();
  readonly #read = new Set<string>();
  readonly #parts = new Map<string, EdlPart[] | undefined>();

  constructor(
    readonly values: Values,
    readonly io: Io,
    readonly report: Report,
  ) {}

  /** The bytes of a file (`-` is standard input); undefined when they cannot be had, which was reported. */
  async bytes(name: string): Promise<Uint8Array | undefined> {
    const most = this.values.get(option.MAX_BYTES) ?? MAX_BYTES;
    if (name !== STANDARD) {
      this.#read.add(resolve(this.io.cwd, name));
      return bytesOf(name, this.io.cwd, most, this.report);
    }
    const bytes = await this.io.readStdin(most);
    if (bytes === undefined) tooMuchInput(most, this.report);
    return bytes;
  }

  /** What is in a file that people write by hand: see `readByHand`. */
  byHand<T>(name: string | undefined, what: ByHand<T>): Promise<T | 'wrong' | undefined> {
    if (name !== undefined) this.#read.add(resolve(this.io.cwd, name));
    return readByHand(name, what, this.io.cwd, this.report);
  }

  /** Writes a text, whole or not at all; gives what is in the way. What was read is never written over. */
  async save(name: string, text: string, force: boolean): Promise<Problem | undefined> {
    const path = resolve(this.io.cwd, name);
    return this.#read.has(path) ? readHere(name) : await saveText(path, name, text, force);
  }

  /** The show file of --show, else the one beside a file; undefined when there is none, `wrong` when it has errors. Each is read once. */
  show(name: string): Promise<GivenShow | 'wrong' | undefined> {
    const file = this.values.get(option.SHOW) ?? showBeside(name, this.io.cwd);
    const show = this.#shows.get(file) ?? this.byHand(file, SHOW_FILE);
    this.#shows.set(file, show);
    return show;
  }

  /** How a log is read; undefined when the mapping file has errors. */
  async loading(): Promise<LoadOptions | undefined> {
    const map = await this.byHand(this.values.get(option.MAP), MAPPING);
    return map === 'wrong' ? undefined : { ...loadOptions(this.values), ...known({ map }) };
  }

  /** How a log is read that is adjusted as a call says; undefined when the corrections file has errors. */
  async adjusted(loading: LoadOptions, adjusting: Adjusting): Promise<LoadOptions | undefined> {
    const corrections = await this.byHand(this.values.get(adjusting.corrections), CORRECTIONS);
    return corrections === 'wrong' ? undefined : { ...loading, ...known({ adjust: adjusting.rules(this.values), corrections }) };
  }

  /** The list in a file, a log, an EDL or an OTIO; undefined when there are errors. */
  async list(file: string, loading: LoadOptions): Promise<{ list: CutList; form: Form } | undefined> {
    const { form, lists: [list] } = await this.lists(file, loading);
    return form === undefined || list === undefined ? undefined : { list, form };
  }

  /** The lists in a file: one, those of the takes of a log that are separate, or none, when there are errors. Its form is undefined where it cannot be told. */
  async lists(file: string, loading: LoadOptions): Promise<Lists> {
    const [bytes, show] = [await this.bytes(file), await this.show(file)];
    if (bytes === undefined) return { form: undefined, lists: [] };
    const name = spokenName(file);
    const given = show === 'wrong' ? undefined : show;
    const text = decodedText({ name, bytes, ...known({ show: given }) }, loading, this.report);
    if (text === undefined) return { form: undefined, lists: [] };
    const form = formOf(text);
    const parts = form === 'edl' ? this.parts(name) : [];
    if (show === 'wrong' || parts === undefined) return { form, lists: [] };
    const input: LoadInput = { name, bytes: text, title: listName(file), parts, ...known({ show: given }) };
    const loaded = await loadLists(input, form === 'log' ? loading : listOnly(loading), placedIn(name, this.report));
    return { form, lists: loaded?.lists ?? [] };
  }

  /**
   * The other parts of an EDL that was divided, `show-2.edl` and so on beside `show-1.edl`; reported, where there are any.
   * Undefined when one of them cannot be had, which was reported. Both once, however often they are asked for.
   */
  parts(name: string): readonly EdlPart[] | undefined {
    if (!this.#parts.has(name)) {
      const others = otherParts(name, this.io.cwd);
      for (const { file } of others.parts) this.#read.add(resolve(this.io.cwd, file));
      this.#parts.set(name, textsOfParts(name, others, this.io.cwd, this.report));
    }
    return this.#parts.get(name);
  }
}

/** What is wrong where standard input is to be several files of a call: the second would be found empty. */
export const standardTwice = (names: readonly (string | undefined)[]): Problem | undefined =>
  names.filter((name) => name === STANDARD).length > 1 ? problem('bad-option', 'standard input (-) was given twice, and can be read once') : undefined;

/** Options for logs mean nothing for a list, and one call may read both. */
export const listOnly = ({ rate, maxBytes }: LoadOptions): LoadOptions => known({ rate, maxBytes });
