// Which source files go into which script: found by following the imports, so that no list of files has to be kept.

/** Where the command line begins. */
const START = 'src/cli/main.ts';

/** Where else a run may begin: the library, a thread of a batch, a thread that reads recordings. */
const ENTRIES = ['src/index.ts', 'src/cli/job-thread.ts', 'src/media/worker.ts'];

/** What a usual run (a CSV without a show file to all three lists) loads on its way: part of the first script, and ready from its start. */
export const USUAL = new Set([
  'src/cli/convert.ts',
  'src/cutlist/build.ts',
  'src/cutlist/place.ts',
  'src/formats/chapters/text.ts',
  'src/formats/chapters/write.ts',
  'src/formats/edl/write.ts',
  'src/formats/otio/write.ts',
  'src/log/read.ts',
  'src/show/sources.ts',
  'src/timecode/luxon.ts',
]);

/** What a usual run imports, and calls nothing of: functions that the first script finds in the second when one is first called. */
export const SELDOM = new Set([
  'src/cli/last-run.ts',
  'src/cutlist/adjust.ts',
  'src/cutlist/angles.ts',
  'src/cutlist/cover.ts',
  'src/cutlist/end.ts',
  'src/cutlist/known-files.ts',
  'src/cutlist/place-shots.ts',
  'src/cutlist/place-sound.ts',
  'src/cutlist/rates.ts',
  'src/cutlist/seams.ts',
  'src/formats/edl/record-side.ts',
  'src/log/shots.ts',
  'src/log/xml.ts',
  'src/timecode/label.ts',
]);

/**
 * `first`: files of the script that every run loads; `shared`: those among them that the rest needs; `later`: files of the rest that the
 * first script loads when it needs them; `entries`: see ENTRIES. `bundle` makes esbuild follow all imports.
 */
export async function partsOf(bundle) {
  const { metafile } = await bundle([START, ...ENTRIES].map((path) => `export const x${path.replaceAll(/\W/g, '_')} = () => require('./${path}');`).join('\n'));
  const graph = new Map(Object.entries(metafile.inputs).filter(([path]) => path.startsWith('src/')).map(([path, { imports }]) => [path, imports.filter((one) => one.path.startsWith('src/'))]));
  const first = new Set();
  const visit = (path) => {
    if (first.has(path)) return;
    first.add(path);
    for (const { path: to, kind } of graph.get(path)) if (!SELDOM.has(to) && (kind !== 'dynamic-import' || USUAL.has(to))) visit(to);
  };
  visit(START);
  const shared = new Set();
  const later = new Set();
  for (const [path, imports] of graph) {
    for (const { path: to } of imports) {
      if (first.has(path) && !first.has(to)) later.add(to);
      if (!first.has(path) && first.has(to)) shared.add(to);
    }
  }
  const unknown = [...[...USUAL].filter((path) => !first.has(path)), ...[...SELDOM].filter((path) => !later.has(path))];
  if (unknown.length > 0) throw new Error(`scripts/parts.mjs names files that nothing of the first script imports: ${unknown.join(', ')}`);
  return { first, shared: [...shared].sort(), later, entries: ENTRIES };
}
