/** Every field of a row, right and wrong (contract §3): what becomes of it, and where its problem lies. */
import { describe, expect, it } from 'vitest';
import { read } from '../support/logs.js';

const HEADER = 'time,action,source,duration,end,wipe,note\n';
const SHOW = [
  { id: '1', name: 'Stage wide', aliases: ['CAM 1', 'wide'], picture: true },
  { id: '2', name: 'Close-up', aliases: [], picture: true },
  { id: '10', name: '2', aliases: [], picture: true },
  { id: 'mix', name: 'Sound desk', aliases: ['desk'], picture: false },
  { id: 'program', name: 'Program', aliases: ['PGM out'], picture: true },
];

const rows = (...lines: readonly string[]): string => HEADER + lines.join('\n');
const known = (...lines: readonly string[]): ReturnType<typeof read> => read(rows(...lines), { sources: SHOW });

describe('actions', () => {
  it('are all read', () => {
    const { events, loud, reading } = known(
      '0,start,,,,,', '0,cut,1,,,,', '25,dissolve,2,30,,,', '100,dissolve,1,,140,,', '200,wipe,2,1s,,17,', '300,cue,1,,,,', '310,cut,,,,,take it',
      '400,dissolve,2,,,,', '420,dissolve-end,,,,,', '500,marker,,,,,The stock boils', '510,audio,desk,,,,', '520,audio,follow,,,,', '530,ignore,,,,,', '600,stop,,,,,',
    );
    expect(loud).toEqual([]);
    expect(events).toEqual([
      '0 start', '0 cut 1', '25 dissolve 2 +30', '100 dissolve 1 →140', '200 wipe 2 +25 W17', '300 cue 1', "310 cut 'take it'",
      '400 dissolve 2', '420 dissolve-end', "500 marker 'The stock boils'", '510 audio mix', '520 audio follow', '600 stop',
    ]);
    expect(reading?.ignored).toBe(1);
    // Rows to ignore have no number; a line of the file each has.
    expect(reading?.events.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]);
    expect(reading?.events.at(-1)).toMatchObject({ line: 15, column: 1 });
  });

  it('are a cut where they are blank or have no column', () => {
    expect(known('0,,1,,,,', '5,  ,2,,,,').events).toEqual(['0 cut 1', '5 cut 2']);
    expect(read('time,source\n0,1\n5,2\n').events).toEqual(['0 cut 1', '5 cut 2']);
  });

  it('are read by trade words in any case, and a note says so', () => {
    const { events, lines } = known('0,TAKE,1,,,,', '5,Mix,2,10,,,', '30,Preview,1,,,,', '40,CUT,,,,,');
    expect(events).toEqual(['0 cut 1', '5 dissolve 2 +10', '30 cue 1', '40 cut']);
    expect(lines).toContain("log: note: actions are read by their words: 'TAKE' as cut, 'Mix' as dissolve, 'Preview' as cue; map them otherwise in a mapping file [found]");
  });

  it('are read by the mapping first, also where it says otherwise than the trade', () => {
    const { events, reading } = read(rows('0,take,1,,,,', '5,BLEND,2,10,,,', '30,key on,,,,,'), { map: { actions: { TAKE: 'cue', Blend: 'dissolve', 'KEY ON': 'ignore' } } });
    expect(events).toEqual(['0 cue 1', '5 dissolve 2 +10']);
    expect(reading?.map.actions).toEqual({ TAKE: 'cue', Blend: 'dissolve', 'KEY ON': 'ignore', take: 'cue', BLEND: 'dissolve', 'key on': 'ignore' });
  });

  it('are what the mapping says of a blank word, where they are blank or have no column', () => {
    const { events, reading } = read(rows('0,,,,,,STATUS', '5,cut,1,,,,', '9, ,2,,,,'), { map: { actions: { '': 'ignore' } } });
    expect(events).toEqual(['5 cut 1']);
    expect([reading?.ignored, reading?.map.actions]).toEqual([2, { '': 'ignore' }]);
    const cues = read('time,source\n0,1\n5,2\n', { map: { actions: { ' ': 'cue' } }, partial: true });
    expect(cues.events).toEqual(['0 cue 1', '5 cue 2']);
    expect(cues.lines[0]).toContain("there is no column for the action, so every row is 'cue'");
  });

  it('that are unknown name the nearest known word', () => {
    expect(known('0,disolve,1,,,,').loud).toEqual([
      "log:2:3: error: unknown action 'disolve'; did you mean 'dissolve'?; expected cut, dissolve, dissolve-end, wipe, cue, start, stop, marker, audio, ignore, or a word of the mapping's actions [unknown-action]",
    ]);
    expect(known('0,zzzzzz,1,,,,').loud[0]).not.toContain('did you mean');
  });
});

describe('sources', () => {
  it('match by id and alias in any case, then by name', () => {
    expect(known('0,,1,,,,', '1,,cam 1,,,,', '2,,WIDE,,,,', '3,,stage WIDE,,,,', '4,,2,,,,', '5,,BLACK,,,,').events).toEqual([
      '0 cut 1', '1 cut 1', '2 cut 1', '3 cut 1', '4 cut 2', '5 cut black',
    ]);
  });

  it('are mapped first', () => {
    const { events } = read(rows('0,,Button 7,,,,', '1,,1,,,,', '2,,OFF,,,,', '3,audio,AUX,,,,', '4,audio,NIL,,,,'), { sources: SHOW, map: { sources: { 'BUTTON 7': '2', '1': 'wide', off: 'black', aux: 'desk', nil: 'none' } } });
    expect(events).toEqual(['0 cut 2', '1 cut 1', '2 cut black', '3 audio mix', '4 audio none']);
  });

  it('that are unknown name the nearest, and all that there are', () => {
    expect(known('0,,Close-upp,,,,').loud).toEqual([
      "log:2:4: error: unknown source 'Close-upp'; did you mean 'close-up'? Then mend the row, or add 'Close-upp' to that source's aliases in the show file; known are 1, 2, 10, mix, black [unknown-source]",
    ]);
    expect(known('0,,7,,,,').loud).toEqual(["log:2:4: error: unknown source '7'; known are 1, 2, 10, mix, black; add it to the show file, or to the aliases of one of these [unknown-source]"]);
    expect(read(rows('0,,A,,,,'), { sources: SHOW, map: { sources: { a: '9' } } }).loud[0]).toContain("'A' is mapped to '9', which is no known source");
  });

  it('that are unknown are said once each, at their first row', () => {
    const { loud } = known('0,,1,,,,', '1,,7,,,,', '2,,Kamera,,,,', '3,cue,7,,,,', '4,,7,,,,', '5,audio,Kamera,,,,', '6,,desk,,,,', '7,,Kamera,,,,');
    expect(loud.map((line) => line.replace(/error: .* these/, '…'))).toEqual([
      'log:3:4: …; 2 more rows have it [unknown-source]',
      'log:4:4: …; 1 more row has it [unknown-source]',
      // As a source of sound it is looked for among other words.
      'log:7:9: … [unknown-source]',
      "log:8:4: error: 'desk' is a sound-only recording, and cannot be switched to [unknown-source]",
    ]);
  });

  it('without a picture can be heard and not be switched to, nor can the program', () => {
    expect(known('0,,1,,,,', '1,cut,desk,,,,').loud).toEqual(["log:3:7: error: 'desk' is a sound-only recording, and cannot be switched to [unknown-source]"]);
    expect(known('0,,1,,,,', '1,cue,mix,,,,').loud).toEqual(["log:3:7: error: 'mix' is a sound-only recording, and cannot be switched to [unknown-source]"]);
    expect(known('0,,1,,,,', '1,cut,pgm OUT,,,,').loud).toEqual(["log:3:7: error: 'pgm OUT' is the switched output, and cannot be switched to [unknown-source]"]);
    expect(read(rows('0,,1,,,,', '1,cut,Program,,,,')).loud).toEqual(["log:3:7: error: 'Program' is the switched output, and cannot be switched to [unknown-source]"]);
    expect(known('0,,1,,,,', '1,audio,desk,,,,', '2,audio,PGM Out,,,,', '3,audio,PROGRAM,,,,', '4,audio,None,,,,', '5,audio,black,,,,', '6,audio,2,,,,').events).toEqual([
      '0 cut 1', '1 audio mix', '2 audio program', '3 audio program', '4 audio none', '5 audio none', '6 audio 2',
    ]);
  });

  it('are those that the log names, in its first spelling, where none are known', () => {
    const { reading, events } = read(rows('0,,Cam A,,,,', '1,,CAM a,,,,', '2,cue,7,,,,', '3,,black,,,,', '4,audio,Desk,,,,', '5,audio,follow,,,,'));
    expect(events).toEqual(['0 cut Cam A', '1 cut Cam A', '2 cue 7', '3 cut black', '4 audio Desk', '5 audio follow']);
    expect(reading?.sources).toEqual([{ id: 'Cam A', name: 'Cam A' }, { id: '7', name: '7' }, { id: 'Desk', name: 'Desk' }]);
    expect(known('0,,1,,,,').reading?.sources).toEqual([]);
  });

  it('of our own XML have the names that it gives', () => {
    const text = '<cutlog version="1" rate="25"><source id="1" name="Stage wide"/><source id="2" name="Close-up"/><event time="00:00:00:00" source="close-UP"/><event time="00:00:01:00" source="1"/><event time="00:00:02:00" source="9"/></cutlog>';
    const { reading, events } = read(text, { rate: undefined });
    expect(events).toEqual(['0 cut 2', '25 cut 1', '50 cut 9']);
    expect(reading?.sources).toEqual([{ id: '1', name: 'Stage wide' }, { id: '2', name: 'Close-up' }, { id: '9', name: '9' }]);
  });
});

describe('what an action needs', () => {
  it.each([
    ['5,dissolve,1,,,,', 'log:3:1: error: a dissolve needs a duration or an end [missing-field]'],
    ['5,wipe,1,10,,,', 'log:3:1: error: a wipe needs a SMPTE wipe code, 0 to 999 [missing-field]'],
    ['5,cue,,,,,', 'log:3:1: error: a cue needs a source [missing-field]'],
    ['5,audio,,,,,', 'log:3:1: error: a change of audio needs a source, program, follow or none [missing-field]'],
    ['5,marker,,,,,', 'log:3:1: error: a marker needs a note that names the point [missing-field]'],
    [',cut,1,,,,', 'log:3:1: error: a row needs a time [missing-field]'],
  ])('%s', (row, message) => {
    const { reading, loud } = known('0,cut,1,,,,', row);
    expect(reading).toBeUndefined();
    expect(loud.map((line) => line.replace(/:3:\d+:/, ':3:1:'))).toEqual([message]);
  });

  it.each([
    ['-5', "'-5' is negative; a duration is zero frames or more"],
    ['-1s', "'-1s' is negative; a duration is zero frames or more"],
    ['long', "'long' is not a duration; expected frames (30, 30f), 1s, 500ms or a timecode"],
    ['NaN', "'NaN' is not a duration; expected frames (30, 30f), 1s, 500ms or a timecode"],
    ['1e309', "'1e309' is not a duration; expected frames (30, 30f), 1s, 500ms or a timecode"],
    ['1.5', "'1.5' is not a whole number of frames; write 1.5s for seconds"],
    ['"1,500ms"', `'1,500' can be a decimal or thousands; say "decimal" in a mapping`],
  ])('refuses a duration of %s', (duration, message) => {
    expect(known(`0,dissolve,1,${duration},,,`).loud).toEqual([`log:2:${duration.startsWith('"') ? '15' : '14'}: error: ${message} [bad-duration]`]);
  });

  it('takes durations of every form, also with a decimal comma', () => {
    expect(read('time;action;source;duration\n0,0;dissolve;1;0,5s\n9,5;dissolve;2;500ms\n20,0;dissolve;1;00:00:01:05\n30,0;dissolve;2;10f\n').events).toEqual([
      '0 dissolve 1 +13', '238 dissolve 2 +13', '500 dissolve 1 +30', '750 dissolve 2 +10',
    ]);
  });

  it('rounds a duration as times are rounded, on its own', () => {
    const text = 'time,action,source,duration\n0.5,dissolve,1,0.5s\n';
    expect(read(text).events).toEqual(['13 dissolve 1 +13']);
    expect(read(text, { rounding: 'floor' }).events).toEqual(['12 dissolve 1 +12']);
  });

  it.each(['1000', '-1', '1.5', 'star', 'W1000'])('refuses the wipe code %s', (code) => {
    expect(known(`0,wipe,1,10,,${code},`).loud).toEqual([`log:2:14: error: '${code}' is not a wipe code; expected a number from 0 to 999 [bad-wipe]`]);
  });

  it('takes wipe codes with and without a W', () => {
    expect(known('0,wipe,1,10,,0,', '50,wipe,2,10,,W017,', '90,wipe,1,10,,999,').events).toEqual(['0 wipe 1 +10 W0', '50 wipe 2 +10 W17', '90 wipe 1 +10 W999']);
  });

  it('refuses a transition that is complete before it begins, and keeps one of no length', () => {
    expect(known('50,dissolve,1,,40,,').loud).toEqual(['log:2:16: error: the dissolve is complete at 40, before it begins [bad-duration]']);
    expect(known('50,dissolve,1,,50,,', '60,dissolve,2,0,,,').events).toEqual(['50 dissolve 1 →50', '60 dissolve 2 +0']);
  });

  it('takes a duration and an end that agree to a frame, and refuses those that do not', () => {
    expect(known('50,dissolve,1,30,80,,', '100,dissolve,2,30,131,,').events).toEqual(['50 dissolve 1 +30', '100 dissolve 2 +30']);
    expect(known('50,dissolve,1,30,90,,').loud).toEqual(['log:2:1: error: the dissolve has a duration of 30 frames, and its end comes 40 frames after its time; give one of them [bad-duration]']);
  });

  it('leaves it to a dissolve-end to complete what has neither', () => {
    expect(known('0,dissolve,1,,,,', '20,dissolve-end,,,,,').loud).toEqual([]);
  });

  it('does not use the duration of a cut, and says so once', () => {
    const { events, lines } = known('0,cut,1,30,,,', '50,cut,2,0,,,', '90,cut,1,40,,,');
    expect(events).toEqual(['0 cut 1', '50 cut 2', '90 cut 1']);
    expect(lines).toContain('log:2: note: 2 cuts have a duration, which a cut does not need: not used; map the action where it is a dissolve [found]');
  });
});

it('warns of cuts with ends: a row may be a shot', () => {
  expect(known('0,cut,1,,50,,', '50,cut,2,,50,,').loud).toEqual([`log:2: warning: 2 cuts have an end, which a cut does not need: not used; where a row is a shot, say "rowsAre": "shots" in a mapping [found]`]);
  // An end on the cut's own time says nothing by itself.
  expect(known('0,cut,1,,0,,', '50,cut,2,,50,,').loud).toEqual([]);
  expect(known('0,cut,1,,0,,', '50,cut,2,,60,,').loud).toEqual([expect.stringContaining('log:3: warning: 2 cuts have an end,')]);
});

describe('cuts with durations that look like shots', () => {
  const warning = (count: number): string => `log:2: warning: ${String(count)} cuts have a duration, which a cut does not need: not used; where a row is a shot, say "rowsAre": "shots" in a mapping; map the action where it is a dissolve [found]`;
  const list = 'start,length,camera\n10:00:00:00,00:00:10:00,1\n10:00:10:00,00:00:10:00,2\n10:00:30:00,00:00:10:00,1\n';

  it('are warned of where no word says that they are cuts, and read as shots where a mapping says so', () => {
    expect(read(list).loud).toEqual([warning(3)]);
    const { events, loud } = read(list, { map: { rowsAre: 'shots' } });
    expect(loud).toEqual([]);
    expect(events).toEqual(['900000 cut 1', '900250 cut 2', '900500 cut black', '900750 cut 1', '901000 stop']);
    // The last row may lack its length, and there may be markers.
    expect(known('0,,1,50,,,', '50,,2,50,,,', '60,marker,,,,,Salt', '120,,1,,,,').loud).toEqual([warning(2)]);
  });

  it('are warned of where they reach to the next switch, whatever the word is', () => {
    expect(known('0,cut,1,50,,,', '50,cut,2,2s,,,', '100,cut,1,30,,,').loud).toEqual([warning(3)]);
  });

  it('are a note in a log of transitions, and where a few have one', () => {
    expect(known('0,,1,30,,,', '50,,2,30,,,', '90,dissolve,1,30,,,').loud).toEqual([]);
    expect(known('0,,1,,,,', '50,,2,30,,,', '90,,1,,,,').loud).toEqual([]);
    expect(known('0,cut,1,50,,,', '50,cut,2,30,,,', '90,cut,1,30,,,', '200,cut,2,30,,,').loud).toEqual([]);
  });

  it('need ends in a log of clock times, and that is said', () => {
    const { loud } = read('start,length,camera\n10:00:00.0,10s,1\n10:00:10.0,10s,2\n');
    expect(loud).toContain('log:2: warning: 2 cuts have a duration, which a cut does not need: not used; where a row is a shot, give it its end and say "rowsAre": "shots" in a mapping; map the action where it is a dissolve [found]');
  });
});

describe('a log with faults', () => {
  it('reports every one of them, each at its place', () => {
    const { reading, lines } = known('0,cut,7,,,,', 'x,cut,8,,,,', '20,flash,1,,,,', '30,dissolve,9,-1,,,', '40,wipe,1,,,5000,', '50,marker,,,,,', '60,cut,1,,,,');
    expect(reading).toBeUndefined();
    const errors = lines.filter((line) => line.includes(' error: ')).map((line) => `${line.split(' error: ')[0] ?? ''}${/\[.*\]$/.exec(line)?.[0] ?? ''}`);
    expect(errors).toEqual([
      'log:3:1:[bad-time]', 'log:4:4:[unknown-action]', 'log:5:15:[bad-duration]', 'log:6:13:[bad-wipe]', 'log:7:1:[missing-field]',
      // How many rows have a word is known behind the last one.
      'log:2:7:[unknown-source]', 'log:3:7:[unknown-source]', 'log:5:13:[unknown-source]',
    ]);
  });

  it('gives what could be read where that is asked for', () => {
    const { reading } = read(rows('0,cut,1,,,,', 'x,cut,1,,,,', '20,cut,2,,,,'), { partial: true });
    expect(reading?.events.map(({ at }) => at)).toEqual([0, 20]);
  });

  it('skips blank rows, and rows of delimiters alone', () => {
    const { reading, loud } = known('0,cut,1,,,,', '', ',,,,,,', '  ', '5,cut,2,,,,', '');
    expect(loud).toEqual([]);
    expect(reading?.events.map(({ number, line }) => [number, line])).toEqual([[1, 2], [2, 6]]);
  });

  it('keeps notes on one line', () => {
    expect(known('0,cut,1,,,,"The stock\r\n  comes to\tthe boil"').events).toEqual(["0 cut 1 'The stock comes to the boil'"]);
  });
});

describe('a log without a picture', () => {
  it.each([
    ['', 'the log is empty'],
    ['  \n\t\n', 'the log is empty'],
    [HEADER, 'nothing in this log puts a picture on air: it has no cut, dissolve or wipe'],
    [rows('0,marker,,,,,Opening', '5,start,,,,,', '9,cue,1,,,,'), 'nothing in this log puts a picture on air: it has no cut, dissolve or wipe'],
  ])('%j is no log', (text, message) => {
    const { reading, loud } = read(text);
    expect(reading).toBeUndefined();
    expect(loud).toEqual([`log: error: ${message} [no-events]`]);
  });
});
