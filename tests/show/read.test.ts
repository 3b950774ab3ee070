import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readShowFile } from '../../src/show/read.js';
import { ProblemList, problemLine } from '../../src/problems.js';
// @ts-expect-error: a plain script without types
import { schemaModule, schemaModulePath } from '../../scripts/schemas.mjs';

function read(text: string): { show: ReturnType<typeof readShowFile>; lines: string[] } {
  const list = new ProblemList();
  const show = readShowFile(text, 'show.json', list.add);
  return { show, lines: list.problems.map(problemLine) };
}

const faults = (show: unknown): string[] => read(JSON.stringify(show, null, 2)).lines;

describe('a show file', () => {
  it('is read with every key of the contract', () => {
    const show = {
      $schema: 'show.schema.json',
      title: 'Harbour Kitchen 14',
      rate: '29.97df',
      recordStart: '01:00:00;00',
      sources: [
        { id: '1', name: 'Stage wide', reel: 'WIDE', aliases: ['CAM 1'], start: '10:00:00;00', offset: 0, files: [{ path: 'media/wide-1.mov', start: '10:00:00;00', frames: 53946, rate: '29.97df', channels: 2 }], recorded: true },
        { id: '4', name: 'Slides', reel: 'SLIDES', recorded: false, start: ['10:00:00;00', '11:00:00;00'], sync: { this: '00:00:10;00', is: '10:00:00;00' } },
        { id: 'mix', name: 'Sound desk', reel: 'DESK', picture: false, files: [{ path: 'media/desk.wav' }] },
      ],
      program: { name: 'Program', reel: 'PGM', files: [{ path: 'media/program.mov' }] },
      audio: { from: 'MIX', channels: [1, 2] },
      log: { rows: '/a/b', skipLines: 2, delimiter: ';', encoding: 'utf-8', decimal: ',', fields: { time: 'when', action: 'what/@kind', source: 'bus' }, actions: { TAKE: 'cut', KEY: 'ignore' }, sources: { 'CAM 1': '1' }, timeAs: 'clock', clockFormat: 'HH:mm', zone: 'Europe/Lisbon', rate: '29.97', rowsAre: 'events' },
    };
    const { show: found, lines } = read(JSON.stringify(show));
    expect(lines).toEqual([]);
    expect(found).toEqual(show);
  });

  it('may be empty', () => {
    expect(read('{}').lines).toEqual([]);
  });

  it('may give the program recording an id: one more word for it', () => {
    const { show } = read('{"program":{"id":"PGM 1","aliases":["air"]},"audio":{"from":"pgm 1"}}');
    expect(show?.program).toEqual({ aliases: ['air', 'PGM 1'] });
  });
});

describe('an unknown or wrong key', () => {
  it('is named with its line, its column and the nearest right key', () => {
    expect(read('{\n  "title": "HK",\n  "reat": "25"\n}').lines).toEqual([
      "show.json:3:3: error: unknown key 'reat' in the file; did you mean 'rate'? [bad-show-file]",
    ]);
    expect(read('{"sources": [\n  { "id": "1", "alias": ["CAM"] }\n]}').lines).toEqual([
      "show.json:2:16: error: unknown key 'alias' in sources[0]; did you mean 'aliases'? [bad-show-file]",
    ]);
  });

  it('far from every right key lists those', () => {
    expect(faults({ audio: { gain: 3 } })).toEqual(["show.json:3:5: error: unknown key 'gain' in audio; expected from, channels [bad-show-file]"]);
  });

  it.each([
    [{ title: 14 }, 'title is the number 14; expected a text in double quotes'],
    [{ sources: { id: '1' } }, 'sources is an object; expected a list'],
    [{ sources: [{ name: 'Wide' }] }, "sources[0] lacks the key 'id'"],
    [{ sources: [{ id: 1 }] }, 'sources[0].id is the number 1; expected a text in double quotes'],
    [{ sources: [{ id: ' ' }] }, 'sources[0].id is empty'],
    [{ sources: [{ id: '1', start: 0 }] }, 'sources[0].start is the number 0; expected a text in double quotes or a list'],
    [{ sources: [{ id: '1', offset: 1.5 }] }, 'sources[0].offset is the number 1.5; expected a whole number'],
    [{ sources: [{ id: '1', files: [{ path: 'a.mov', frames: 0 }] }] }, 'sources[0].files[0].frames is the number 0; expected 1 or more'],
    [{ sources: [{ id: '1', files: [{}] }] }, "sources[0].files[0] lacks the key 'path'"],
    [{ sources: [{ id: '1', recorded: 'no' }] }, "sources[0].recorded is 'no'; expected true or false"],
    [{ sources: [{ id: '1', sync: { this: '00:00:00:00' } }] }, "sources[0].sync lacks the key 'is'"],
    [{ audio: { channels: [] } }, 'audio.channels is an empty list; expected at least 1'],
    [{ audio: { from: 'desk' } }, "audio.from is 'desk', which is no source; expected one of follow, none"],
    [{ program: {}, audio: { from: 'desk' } }, "audio.from is 'desk', which is no source; expected one of program, follow, none"],
    [{ sources: [{ id: 'desk' }], audio: { from: 'dexk' } }, "audio.from is 'dexk', which is no source; did you mean 'desk'?"],
    [{ log: { timeAs: 'clok' } }, "log.timeAs is 'clok'; expected one of timecode, frames, seconds, milliseconds, clock; did you mean 'clock'?"],
    [{ log: { actions: { TAKE: 'cutt' } } }, "log.actions.TAKE is 'cutt'; expected one of cut, dissolve, dissolve-end, wipe, cue, start, stop, marker, audio, ignore; did you mean 'cut'?"],
    [{ log: { delimiter: ';;' } }, "log.delimiter is ';;'; expected a single character"],
    [{ log: { fields: { tiem: 'x' } } }, "unknown key 'tiem' in log.fields; did you mean 'time'?"],
    [{ rate: '25df' }, 'there is no drop-frame at 25; it exists for 29.97 and 59.94 only'],
    [null, 'the file is null; expected an object { … }'],
    [[], 'the file is a list; expected an object { … }'],
  ])('%j', (show, message) => {
    const lines = faults(show);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(`error: ${message}`);
  });

  it('hears of every fault at once', () => {
    expect(faults({ titel: 'a', rate: 25, sources: [{ id: '1', file: [] }] })).toHaveLength(3);
  });

  it('is not JSON at all', () => {
    expect(read('{"title": "HK",}').lines).toEqual([
      'show.json:1:16: error: not valid JSON: expected a key in double quotes, or } (a comma before } is one too many) [bad-show-file]',
    ]);
    expect(read('').lines).toEqual(['show.json:1:1: error: not valid JSON: the file is empty [bad-show-file]']);
    expect(read('{"a":1,"a":2}').lines[0]).toContain("the key 'a' is there twice");
    expect(read('['.repeat(200_000)).lines[0]).toContain('nested too deeply');
    expect(read('time,action\n1,cut').lines[0]).toContain('not valid JSON');
  });
});

describe('ids, aliases and reels', () => {
  it.each([
    [[{ id: 'a' }, { id: 'A' }], 'duplicate-source'],
    [[{ id: 'a' }, { id: 'a' }], 'duplicate-source'],
    [[{ id: 'a', aliases: ['CAM 1'] }, { id: 'b', aliases: ['cam 1'] }], 'duplicate-source'],
    [[{ id: 'a' }, { id: 'b', aliases: ['A'] }], 'duplicate-source'],
    [[{ id: 'black' }], 'duplicate-source'],
    [[{ id: 'Program' }], 'duplicate-source'],
    [[{ id: 'a', aliases: ['none'] }], 'duplicate-source'],
    [[{ id: 'a', reel: 'WIDE' }, { id: 'b', reel: 'wide ' }], 'reel-taken'],
    [[{ id: 'a', reel: 'bl' }], 'reel-taken'],
    [[{ id: 'a', reel: 'AX' }], 'reel-taken'],
    [[{ id: 'a', files: [{ path: 'x', rate: '25' }, { path: 'y', rate: '50' }] }], 'bad-show-file'],
    [[{ id: 'a', files: [{ path: 'x', rate: '51' }] }], 'bad-rate'],
  ])('%j: %s', (sources, code) => {
    const lines = faults({ sources });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(`[${code}]`);
    expect(lines[0]).toMatch(/^show\.json:\d+:\d+: error: /);
  });

  it('count against the program recording too', () => {
    expect(faults({ sources: [{ id: 'a', reel: 'PGM' }], program: { reel: 'PGM' } })[0]).toContain('[reel-taken]');
  });

  it('may repeat an id as its own alias', () => {
    expect(faults({ sources: [{ id: 'a', aliases: ['A'] }] })).toEqual([]);
  });
});

it('the compiled schemas are those of the sources', () => {
  expect(readFileSync(schemaModulePath as string, 'utf8')).toBe((schemaModule as () => string)());
});

it('a mapping inside a show file obeys the rules of mapping files', () => {
  expect(faults({ log: { zone: 'Europe/Lissabon' } })[0]).toContain("show.json:3:5: error: log.zone is 'Europe/Lissabon', which is no time zone");
});
