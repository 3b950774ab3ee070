import { describe, expect, it } from 'vitest';
import { BLACK, type CutList, type Shot, type Source, type Transition } from '../../../src/cutlist/model.js';
import { writeOtio, type OtioOptions } from '../../../src/formats/otio/write.js';
import { parseRate, type Count, type RateSpec } from '../../../src/timecode/rate.js';
import { countOf } from '../../../src/timecode/timecode.js';
import { otioText } from './support.js';

const count = (text: string): Count => {
  const { rate, dropFrame } = parseRate(text) as RateSpec;
  return countOf(rate, dropFrame ?? false);
};

const source = (id: string, name: string, rate: Count, more: Partial<Source> = {}): Source => ({
  id, name, aliases: [], picture: true, recorded: true, count: rate, starts: [], offset: 0, files: [{ path: `media/${id}.mov` }], ...more,
});

const dissolve = (frames: number, inOffset = 0): Transition => ({ kind: 'dissolve', frames, inOffset });

/** Shots one after another: `[source, frames, transition]`, each from source frame 1000. */
function listOf(rate: string, shots: readonly (readonly [string, number, Transition?])[], more: Partial<CutList> = {}): CutList {
  const own = count(rate);
  let at = 0;
  const made = shots.map(([id, frames, transition]): Shot => {
    const black = id === BLACK;
    const shot = { source: id, in: at, out: at + frames, sourceIn: black ? 0 : 1000, sourceOut: (black ? 0 : 1000) + frames, take: 0, ...(black ? {} : { file: 0 }), ...(transition === undefined ? {} : { transition }) };
    at += frames;
    return shot;
  });
  return {
    title: 'Harbour Kitchen 14', count: own, recordStart: 0, frames: at, sources: [source('1', 'Stage wide', own), source('2', 'Close-up', own)],
    takes: [{ in: 0, out: at, logIn: 0 }], shots: made, audio: [], markers: [], ...more,
  };
}

interface Parsed { readonly [key: string]: unknown }

/** The items of a track, short: `clip Stage wide 1000+50`, `mix SMPTE_Dissolve 5/5 D`, `gap 12`. */
function itemsOf(list: CutList, track = 0, options: Partial<OtioOptions> = {}): string[] {
  const document = JSON.parse(otioText(list, options)) as { tracks: { children: { children: Parsed[] }[] } };
  const value = (item: unknown): string => String((item as { value: number }).value);
  return (document.tracks.children[track]?.children ?? []).map((item) => {
    if (item['OTIO_SCHEMA'] === 'Transition.1') {
      const edl = (item['metadata'] as { cmx_3600?: { transition: string } }).cmx_3600?.transition ?? '-';
      return `mix ${String(item['transition_type'])} ${value(item['in_offset'])}/${value(item['out_offset'])} ${edl}`;
    }
    const range = item['source_range'] as { start_time: unknown; duration: unknown };
    const name = item['OTIO_SCHEMA'] === 'Gap.1' ? 'gap' : `clip ${String(item['name'])}`;
    const warp = (item['effects'] as { OTIO_SCHEMA: string; time_scalar: number }[]).map((effect) => ` ${effect.OTIO_SCHEMA} ${String(effect.time_scalar)}`).join('');
    return `${name} ${value(range.start_time)}+${value(range.duration)}${warp}`;
  });
}

describe('where OTIO cuts', () => {
  it.each([
    ['start', 0, ['clip Stage wide 1000+100', 'mix SMPTE_Dissolve 0/11 D', 'clip Close-up 1000+50']],
    ['center', 5, ['clip Stage wide 1000+105', 'mix SMPTE_Dissolve 5/6 D', 'clip Close-up 1005+45']],
    ['end', 11, ['clip Stage wide 1000+111', 'mix SMPTE_Dissolve 11/0 D', 'clip Close-up 1011+39']],
  ])('at the %s of a mix of 11 frames', (_, inOffset, items) => {
    expect(itemsOf(listOf('25', [['1', 100], ['2', 50, dissolve(11, inOffset)]]))).toEqual(items);
  });

  it('leaves a clip one frame where the mix takes its whole shot', () => {
    expect(itemsOf(listOf('25', [['1', 100], ['2', 11, dissolve(11, 11)], ['1', 5]]))).toEqual([
      'clip Stage wide 1000+110', 'mix SMPTE_Dissolve 10/1 D', 'clip Close-up 1010+1', 'clip Stage wide 1000+5',
    ]);
  });

  it('keeps mixes back to back apart', () => {
    expect(itemsOf(listOf('25', [['1', 20], ['2', 10, dissolve(10, 5)], ['1', 20, dissolve(10, 5)]]))).toEqual([
      'clip Stage wide 1000+25', 'mix SMPTE_Dissolve 5/5 D', 'clip Close-up 1005+10', 'mix SMPTE_Dissolve 5/5 D', 'clip Stage wide 1005+15',
    ]);
  });

  it('fades from and to black', () => {
    expect(itemsOf(listOf('25', [[BLACK, 25], ['1', 50, dissolve(12)], [BLACK, 30, dissolve(12)]]))).toEqual([
      'gap 0+25', 'mix SMPTE_Dissolve 0/12 D', 'clip Stage wide 1000+50', 'mix SMPTE_Dissolve 0/12 D', 'gap 0+30',
    ]);
  });

  it('lets a first shot come from nothing', () => {
    expect(itemsOf(listOf('25', [['1', 50, dissolve(12)]]))).toEqual(['mix SMPTE_Dissolve 0/12 D', 'clip Stage wide 1000+50']);
    expect(itemsOf(listOf('25', [['1', 50, dissolve(12, 6)]]))).toEqual(['gap 0+6', 'mix SMPTE_Dissolve 6/6 D', 'clip Stage wide 1006+44']);
  });

  it('names wipes, and their code where the reference EDL adapter keeps it', () => {
    expect(itemsOf(listOf('25', [['1', 20], ['2', 20, { kind: 'wipe', frames: 8, wipe: 17, inOffset: 0 }], ['1', 20, { kind: 'wipe', frames: 8, inOffset: 0 }]]))).toEqual([
      'clip Stage wide 1000+20', 'mix SMPTE_Wipe 0/8 W017', 'clip Close-up 1000+20', 'mix SMPTE_Wipe 0/8 -', 'clip Stage wide 1000+20',
    ]);
  });
});

describe('rates', () => {
  it('writes the exact double of a rate', () => {
    expect(otioText(listOf('29.97df', [['1', 20]]))).toContain('"rate":29.97002997002997,');
    expect(otioText(listOf('23.976', [['1', 20]]))).toContain('"rate":23.976023976023978,');
    expect(otioText(listOf('25', [['1', 20]]))).toContain('"rate":25.0,');
  });

  const other = (list: string, rate: string, sourceIn: number, sourceOut: number, frames: number): CutList => {
    const made = listOf(list, [['1', frames]]);
    const [shot] = made.shots as [Shot];
    return { ...made, sources: [source('1', 'Stage wide', count(rate))], shots: [{ ...shot, sourceIn, sourceOut }] };
  };

  it('gives 30 in 29.97 the same real time too, played frame for frame', () => {
    // Frame 1001 at 30 is 33.3666… s; that is frame 1000 at 29.97. An available_range at 30 then holds it where it is.
    expect(itemsOf(other('29.97df', '30', 1001, 1051, 50))).toEqual(['clip Stage wide 1000+50']);
  });

  it('gives a source at another rate the same real time in the rate of the list, without a warp', () => {
    // 1000 frames at 25 are 40 s; 40 s are 1198.8011988… frames at 29.97.
    const [item] = itemsOf(other('29.97df', '25', 1000, 1250, 300));
    expect(item).toMatch(/^clip Stage wide 1198\.80119880\d*\+300$/);
  });

  it('writes a warp only where the speed differs by a frame or more', () => {
    expect(itemsOf(other('25', '25', 1000, 1200, 100))).toEqual(['clip Stage wide 1000+100 LinearTimeWarp.1 2']);
    expect(itemsOf(other('25', '50', 1000, 1201, 100))[0]).toContain('LinearTimeWarp.1 1.005');
    // A file that ends within a frame of the list: up to a frame of the list is missing, and the speed is that of the rates.
    expect(itemsOf(other('25', '30', 1000, 8229, 6025))[0]).not.toContain('LinearTimeWarp');
    expect(itemsOf(other('25', '30', 1000, 8228, 6025))[0]).toContain('LinearTimeWarp');
    expect(itemsOf(other('25', '25', 1000, 1099, 100))[0]).toContain('LinearTimeWarp');
    expect(itemsOf(other('50', '25', 1000, 1051, 101))).toEqual(['clip Stage wide 2000+101']);
    expect(itemsOf(other('50', '25', 1000, 1050, 101))).toEqual(['clip Stage wide 2000+101']);
  });
});

describe('media', () => {
  it('points at files by absolute URL, or relative to where the list will lie', () => {
    const list = listOf('25', [['1', 10], ['2', 10]], { sources: [source('1', 'Stage wide', count('25'), { files: [{ path: 'media/wide #1.mov', start: 900, frames: 5000, channels: 2 }] }), source('2', 'Close-up', count('25'), { files: [] })] });
    const text = otioText(list, { paths: 'absolute' });
    expect(text).toContain('"target_url":"file:///srv/Harbour%20Kitchen%2014/media/wide%20%231.mov"');
    expect(text).toContain('"available_range":{"OTIO_SCHEMA":"TimeRange.1","duration":{"OTIO_SCHEMA":"RationalTime.1","rate":25.0,"value":5000.0},"start_time":{"OTIO_SCHEMA":"RationalTime.1","rate":25.0,"value":900.0}}');
    expect(text).toContain('"OTIO_SCHEMA":"MissingReference.1"');
    expect(otioText(list, { folder: '/srv/out' })).toContain('"target_url":"../Harbour%20Kitchen%2014/media/wide%20%231.mov"');
  });
});

describe('beside the cut', () => {
  const own = count('25');
  const list = listOf('25', [['1', 50], ['2', 50]], {
    markers: [{ at: 12, note: 'The stock comes to the boil' }, { at: 100, note: 'Last', color: 'CYAN' }],
    sources: [source('1', 'Stage wide', own), source('2', 'Close-up', own), source('mix', 'Sound desk', own, { picture: false })],
    audio: [{ source: 'mix', in: 0, out: 100, sourceIn: 7, sourceOut: 107, tracks: [1, 2], channels: [2, 1], take: 0, withPicture: false, file: 0 }],
    angles: [
      { source: '1', pieces: [{ in: 0, out: 100, sourceIn: 1000, sourceOut: 1100, take: 0, file: 0 }] },
      { source: '2', pieces: [{ in: 10, out: 30, sourceIn: 5, sourceOut: 25, take: 0, file: 0 }, { in: 60, out: 100, sourceIn: 1010, sourceOut: 1050, take: 0 }] },
      { source: 'mix', pieces: [{ in: 0, out: 100, sourceIn: 7, sourceOut: 107, take: 0, file: 0 }] },
    ],
  });

  it('lays disabled tracks of every recording under the cut', () => {
    const { tracks } = JSON.parse(otioText(list, { angles: true })) as { tracks: { children: { name: string; kind: string; enabled: boolean }[] } };
    expect(tracks.children.map(({ name, kind, enabled }) => `${name} ${kind} ${String(enabled)}`)).toEqual([
      'Stage wide Video false', 'Close-up Video false', 'V Video true', 'A1 Audio true', 'A2 Audio true', 'Sound desk Audio false',
    ]);
    expect(itemsOf(list, 1, { angles: true })).toEqual(['gap 0+10', 'clip Close-up 5+20', 'gap 0+30', 'clip Close-up 1010+40']);
  });

  it('notes the other recordings in sync beside each clip, in their own frames', () => {
    const document = JSON.parse(otioText(list)) as { tracks: { children: { children: { metadata: { linecut: { alternatives: unknown } } }[] }[] } };
    expect(document.tracks.children[0]?.children.map(({ metadata }) => metadata.linecut.alternatives)).toEqual([
      [{ source: '2', sourceIn: 5, file: 0, at: 10, frames: 20 }, { source: 'mix', sourceIn: 7, file: 0 }],
      [{ source: '1', sourceIn: 1050, file: 0 }, { source: 'mix', sourceIn: 57, file: 0 }],
    ]);
  });

  it('writes markers on the stack, in the colours of the standard', () => {
    const { tracks } = JSON.parse(otioText(list)) as { tracks: { markers: { name: string; color: string; marked_range: { start_time: { value: number } } }[] } };
    expect(tracks.markers.map(({ name, color, marked_range }) => [name, color, marked_range.start_time.value])).toEqual([
      ['The stock comes to the boil', 'RED', 12], ['Last', 'CYAN', 100],
    ]);
  });

  it('gives each program channel a track', () => {
    expect(itemsOf(list, 1)).toEqual(['clip Sound desk 7+100']);
    expect(itemsOf(list, 2)).toEqual(['clip Sound desk 7+100']);
  });
});

describe('the text', () => {
  const long = listOf('25', Array.from({ length: 20_000 }, (_, index) => [String(1 + (index % 2)), 10] as const));

  it('comes in chunks, as they are asked for', () => {
    const chunks = writeOtio(long, { base: '/srv' }).chunks[Symbol.iterator]();
    const first = chunks.next().value as string;
    expect(first.length).toBeLessThan(70_000);
    let total = first.length;
    for (let next = chunks.next(); next.done !== true; next = chunks.next()) {
      expect(next.value.length).toBeLessThan(70_000);
      total += next.value.length;
    }
    expect(total).toBe(otioText(long, { paths: 'absolute', base: '/srv' }).length);
  });

  it('says the same pretty and compact, and ends with a new line', () => {
    const list = listOf('25', [['1', 10], ['2', 10, dissolve(5, 2)]]);
    expect(JSON.parse(otioText(list, { pretty: true }))).toEqual(JSON.parse(otioText(list)));
    expect(otioText(list, { pretty: true })).toContain('\n  "name": "Harbour Kitchen 14",\n');
    expect(otioText(list)).toMatch(/\}\n$/);
    expect(otioText(list).indexOf('\n')).toBe(otioText(list).length - 1);
  });

  it('is valid whatever texts the list holds', () => {
    const odd = '"\\\u0000\u0001 0 markers\u0000\u2028</script>\ud800';
    const list = listOf('25', [['1', 10]], { title: odd, sources: [source('1', odd, count('25'), { reel: odd })], markers: [{ at: 0, note: odd }] });
    const document = JSON.parse(otioText(list, { pretty: true })) as { name: string; tracks: { markers: { name: string }[] } };
    expect(document.name).toBe(odd);
    expect(document.tracks.markers[0]?.name).toBe(odd);
  });
});
