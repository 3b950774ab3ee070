// The least that a conversion of LOG into the files of FOLDER could do, with the libraries: read the log with csv-parse, make JSON
// of an object as large as the OTIO in FOLDER, write as many bytes as all files in FOLDER have into the file TO.
import { parse } from 'csv-parse/sync';
import { closeSync, openSync, readdirSync, readFileSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';

const [, , log, folder, to] = process.argv;
const rows = parse(readFileSync(log), { columns: true });
const size = (ending) => readdirSync(folder).filter((file) => file.endsWith(ending)).reduce((sum, file) => sum + statSync(join(folder, file)).size, 0);
const [json, all] = [size('.otio'), size('')];

/** One clip as the OTIO has them, with the values of a row. */
const clip = (row, index) => ({
  OTIO_SCHEMA: 'Clip.2',
  metadata: { linecut: { event: { number: index, action: row.action } }, cmx_3600: { reel: row.source } },
  name: row.source,
  source_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: { OTIO_SCHEMA: 'RationalTime.1', value: index, rate: 30 }, duration: { OTIO_SCHEMA: 'RationalTime.1', value: 40, rate: 30 } },
  effects: [], markers: [], enabled: true,
  media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'MissingReference.1', metadata: {}, name: '', available_range: null, available_image_bounds: null } },
  active_media_reference_key: 'DEFAULT_MEDIA',
});

const file = openSync(to, 'w');
let written = 0;
// A string cannot be longer than 512 MiB, so the object is made and turned into JSON in slices of ten thousand clips.
for (let at = 0; written < json; at += 10_000) {
  const slice = rows.slice(at % rows.length, (at % rows.length) + 10_000).map((row, index) => clip(row, at + index));
  const text = JSON.stringify(slice);
  written += writeSync(file, written + text.length > json ? text.slice(0, json - written) : text);
}
const rest = 'x'.repeat(1 << 20);
while (written < all) written += writeSync(file, rest.slice(0, all - written));
closeSync(file);
