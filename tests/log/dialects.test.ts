import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildCutLists } from '../../src/cutlist/build.js';
import type { LogEvent } from '../../src/cutlist/event.js';
import type { CutList, Shot } from '../../src/cutlist/model.js';
import { DIALECTS } from '../../fixtures/logs/dialects.js';
import { logFiles, mapName } from '../../fixtures/logs/make.js';
import type { LogReading } from '../../src/log/reading.js';
import { readMapping } from '../../src/log/mapping-file.js';
import type { Mapping } from '../../src/log/mapping.js';
import { readShowFile } from '../../src/show/read.js';
import { knownSources, showSources } from '../../src/show/sources.js';
import { problemLine, type Report } from '../../src/problems.js';
import { loadClock } from '../../src/timecode/luxon.js';
import { essence, read, type Read } from '../support/logs.js';

const folder = new URL('../../fixtures/logs/', import.meta.url);
const fixture = (name: string): Buffer => readFileSync(new URL(name, folder));
const unexpected = (problem: Parameters<typeof problemLine>[0]): never => {
  throw new Error(problemLine(problem));
};

function mapping(text: string, name: string): Mapping {
  const map = readMapping(text, name, unexpected);
  if (map === undefined) throw new Error(`no mapping in ${name}`);
  return map;
}

const show = readShowFile(fixture('kitchen.show.json').toString(), 'kitchen.show.json', unexpected);
if (show === undefined) throw new Error('no show file');
const SOURCES = knownSources(show);

async function reading(name: string, map: Mapping | undefined, log: string | Uint8Array = fixture(name)): Promise<Read> {
  await loadClock(map);
  return read(log, { file: name, rate: '29.97df', sources: SOURCES, ...(map === undefined ? {} : { map }) });
}

const demo = read(readFileSync(new URL('../demo/harbour-kitchen-14.csv', folder)), { rate: '29.97df', sources: SOURCES });
const zeroOf = (events: readonly LogEvent[]): number => events.find(({ action }) => action === 'start')?.at ?? NaN;
const essences = ({ events }: LogReading): string[] => events.map((event) => essence(event, zeroOf(events)));

/** The list, without what only says how the log counted: takes' log frames, and the numbers of rows. */
function cutList(got: LogReading | undefined): Pick<CutList, 'frames' | 'audio' | 'markers'> & { shots: Omit<Shot, 'event'>[]; takes: object[] } {
  if (got === undefined || show === undefined) throw new Error('not read');
  const sources = showSources(show, got.count, 'kitchen.show.json', unexpected);
  const quiet: Report = (found) => {
    if (found.severity === 'error') unexpected(found);
  };
  const [list] = buildCutLists(got.events, sources, { title: 'Harbour Kitchen 14', count: got.count, recordStart: 107_892, origin: got.origin, restarts: got.restarts, audio: { from: '1' }, file: 'log' }, quiet);
  if (list === undefined) throw new Error('no list');
  const { shots, takes, audio, markers, frames } = list;
  return { frames, audio, markers, takes: takes.map((take) => [take.in, take.out]), shots: shots.map(({ event, ...shot }) => ({ ...shot, note: event?.note })) };
}

describe('the logs of other machines', () => {
  it('are what the script makes', () => {
    for (const [name, content] of logFiles()) expect([name, Buffer.compare(fixture(name), Buffer.from(content))]).toEqual([name, 0]);
  });

  const rowAnEvent = DIALECTS.filter(({ name }) => name !== 'states.csv' && name !== 'begin-end.csv');

  it('are at least twelve', () => {
    expect(DIALECTS.length).toBeGreaterThanOrEqual(12);
    expect(rowAnEvent.length).toBe(DIALECTS.length - 2);
  });

  it.each(rowAnEvent)('$name gives the events of the demo show', async ({ name, map }) => {
    const { reading: got, loud } = await reading(name, map === undefined ? undefined : mapping(fixture(mapName(name)).toString(), name));
    expect(loud).toEqual([]);
    if (got === undefined || demo.reading === undefined) throw new Error('not read');
    expect(got.events.length).toBe(224);
    expect(essences(got)).toEqual(essences(demo.reading));
    // With words for its notes too.
    expect(got.events.filter(({ action }) => action === 'marker').map(({ note }) => note)).toContain('Crème fraîche, slowly');
  });

  it.each(DIALECTS)('$name gives the cut list of the demo show', async ({ name, map }) => {
    const { reading: got } = await reading(name, map === undefined ? undefined : mapping(fixture(mapName(name)).toString(), name));
    const list = cutList(got);
    expect(list).toEqual(cutList(demo.reading));
    expect(list.shots.length).toBeGreaterThan(150);
    expect(list.shots.filter(({ transition }) => transition !== undefined).length).toBe(35);
  });

  it.each(DIALECTS)('$name is read the same with the mapping that says what was found', async ({ name, log, map }) => {
    const given = map === undefined ? undefined : mapping(JSON.stringify(map), name);
    const first = await reading(name, given, log);
    if (first.reading === undefined) throw new Error('not read');
    // Through JSON and the schema, as a file goes.
    const found = mapping(JSON.stringify(first.reading.map), `${name} found`);
    const second = await reading(name, found, log);
    expect(second.loud).toEqual(first.loud);
    expect(second.reading?.events).toEqual(first.reading.events);
    // Nothing is left to be found by itself.
    expect(second.problems.filter(({ message }) => /by the look|by their words|decimal sign|as the name/.test(message))).toEqual([]);
  });

  it('states.csv gives the switches of the demo show', async () => {
    const map = mapping(fixture('states.map.json').toString(), 'states.map.json');
    const { reading: got, loud } = await reading('states.csv', map);
    expect(loud).toEqual([]);
    if (got === undefined || demo.reading === undefined) throw new Error('not read');
    const switches = (events: readonly LogEvent[], named: boolean): string[] => {
      // A switch of the demo without a source takes the cued one; a row a shot names it.
      const cued: (string | undefined)[] = [];
      return events.flatMap((event) => {
        if (event.action === 'cue') cued[0] = event.source;
        if (!['cut', 'dissolve', 'wipe', 'stop', 'start', 'marker'].includes(event.action)) return [];
        const { end, ...rest } = event;
        const source = named ? event.source : event.action === 'cut' || event.action === 'dissolve' || event.action === 'wipe' ? (event.source ?? cued[0]) : undefined;
        const duration = event.duration ?? (end === undefined ? undefined : end - event.at);
        return [essence({ ...rest, ...(source === undefined ? {} : { source }), ...(duration === undefined ? {} : { duration }) }, zeroOf(events))];
      });
    };
    // The first row of the demo says that black is on air; a hole before the first shot is black without a word.
    expect(switches(got.events, true)).toEqual(switches(demo.reading.events, false).filter((text) => text !== '[0,"cut","black",null,null,null]'));
  });

  it('begin-end.csv gives the transitions of the demo show, with a row where each is complete', async () => {
    const map = mapping(fixture('begin-end.map.json').toString(), 'begin-end.map.json');
    const { reading: got, loud } = await reading('begin-end.csv', map);
    expect(loud).toEqual([]);
    if (got === undefined || demo.reading === undefined) throw new Error('not read');
    const zero = zeroOf(got.events);
    const transitions = demo.reading.events.filter(({ action }) => action === 'dissolve' || action === 'wipe');
    const ends = got.events.filter(({ action }) => action === 'dissolve-end').map(({ at }) => at - zero);
    expect(ends).toEqual(transitions.map(({ at, duration, end }) => (end ?? at + (duration ?? 0)) - zeroOf(demo.reading?.events ?? [])));
    expect(got.events.filter(({ action }) => action === 'dissolve' || action === 'wipe').map(({ at, source, wipe }) => [at - zero, source, wipe]))
      .toEqual(transitions.map(({ at, source, wipe }) => [at - zero, source, wipe]));
  });
});
