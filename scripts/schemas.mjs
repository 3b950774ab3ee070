// Compiles the JSON Schemas of show files and mapping files into one plain module, so that reading a show file
// does not load a schema compiler. Run by `npm run generate`; a test sees to it that the result is current.
import Ajv2020 from 'ajv/dist/2020.js';
import standalone from 'ajv/dist/standalone/index.js';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const at = (path) => fileURLToPath(new URL(`../src/${path}`, import.meta.url));
const read = (path) => JSON.parse(readFileSync(at(path), 'utf8'));

/** The module's text. */
export function schemaModule() {
  const [mapping, show] = [read('log/mapping.schema.json'), read('show/show.schema.json')];
  const ajv = new Ajv2020({ allErrors: true, verbose: true, allowUnionTypes: true, inlineRefs: false, code: { source: true, esm: true } });
  ajv.addSchema(mapping);
  ajv.addSchema(show);
  const code = standalone.default(ajv, { validateShow: 'linecut:show', validateMapping: 'linecut:mapping' });
  if (/\brequire\(/.test(code)) throw new Error('the compiled schema needs a library at run time; use a pattern instead');
  const keys = (name, { properties }) => `export const ${name} = ${JSON.stringify(Object.keys(properties).filter((key) => !key.startsWith('$')))};\n`;
  return `// Generated from the schemas by scripts/schemas.mjs; do not edit.\n${code}\n${keys('SHOW_KEYS', show)}${keys('MAPPING_KEYS', mapping)}`;
}

/** The show file's schema as it is shipped: with the mapping's inside (a compound document of JSON Schema 2020-12, §9.3). */
export function shippedSchema() {
  const show = read('show/show.schema.json');
  return `${JSON.stringify({ ...show, $defs: { ...show.$defs, mapping: read('log/mapping.schema.json') } }, null, 2)}\n`;
}

export const schemaModulePath = at('schema/compiled.js');

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(schemaModulePath, schemaModule());
