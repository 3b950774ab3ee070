/** Reading a mapping file: JSON → schema → what the schema cannot say → a Mapping. */
import { readJson } from '../json.js';
import { problem, type Report } from '../problems.js';
import { fitsSchema } from '../schema/check.js';
import { validateMapping } from '../schema/compiled.js';
import type { Mapping } from './mapping.js';
import { checkMapping } from './mapping-rules.js';

/**
 * Reads a mapping file. Undefined when it has errors; all of them are reported as `bad-map` with line and column: what is
 * not JSON, an unknown key (with the nearest right one), a value of the wrong kind, and an encoding, zone, format,
 * rate, path or action that does not exist. Whether it fits a log is for the reader of that log to say.
 */
export function readMapping(text: string, file: string, report: Report): Mapping | undefined {
  const json = readJson(text, file, 'bad-map', report);
  if (json === undefined || !fitsSchema(json, validateMapping, 'bad-map', report)) return undefined;
  const map: Mapping & { $schema?: string } = { ...(json.value as Mapping) };
  delete map.$schema;
  let sound = true;
  checkMapping(map, (message, path) => {
    sound = false;
    report(problem('bad-map', message, json.placeOf(path)));
  });
  return sound ? map : undefined;
}
