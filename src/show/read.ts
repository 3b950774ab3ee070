/** Reading a show file: JSON → schema → what the schema cannot say (ids, reels, sound) → a ShowFile. */
import { PROGRAM } from '../cutlist/model.js';
import { readJson, type JsonPath } from '../json.js';
import { checkMapping } from '../log/mapping-rules.js';
import { problem, type Code, type Report } from '../problems.js';
import { fitsSchema } from '../schema/check.js';
import { validateShow } from '../schema/compiled.js';
import { rememberPlaces } from './places.js';
import { checkShow } from './rules.js';
import type { ShowFile, ShowSource } from './show.js';

/**
 * Reads a show file. Undefined when it has errors; all of them are reported with line and column: `bad-show-file`
 * (not JSON, an unknown key with the nearest right one, a value of the wrong kind), `bad-rate`, `duplicate-source`,
 * `reel-taken`. Labels are not looked at here: they need the list's rate (`showSources`).
 */
export function readShowFile(text: string, file: string, report: Report): ShowFile | undefined {
  const json = readJson(text, file, 'bad-show-file', report);
  if (json === undefined || !fitsSchema(json, validateShow, 'bad-show-file', report)) return undefined;
  const show = withProgramAlias(json.value as ShowFile);
  let sound = true;
  const complain = (code: Code, message: string, path: JsonPath): void => {
    sound = false;
    report(problem(code, message, json.placeOf(path)));
  };
  checkShow(show, complain);
  if (show.log !== undefined) checkMapping(show.log, (message, path) => { complain('bad-show-file', `log.${message}`, ['log', ...path]); });
  if (!sound) return undefined;
  rememberPlaces(show, json.placeOf);
  return show;
}

/** The program recording takes every key a source takes: an id there is one more word for it. */
function withProgramAlias(show: ShowFile): ShowFile {
  if (show.program === undefined || !('id' in show.program)) return show;
  const { id, ...program } = show.program as ShowSource;
  const aliases = id.trim().toLowerCase() === PROGRAM ? program.aliases : [...(program.aliases ?? []), id];
  return { ...show, program: { ...program, ...(aliases === undefined ? {} : { aliases }) } };
}
