import { describe, expect, it } from 'vitest';
import type { CutList } from '../../../src/cutlist/model.js';
import { clip, gap, mix, range, read, shots, stack, timeline, track, type Json } from './documents.js';

const X = clip('X', 100, 50);
const Y = clip('Y', 100, 50);
const sound = (children: Json[], name = ''): Json => track(children, { kind: 'Audio', name });
const compound = (...layers: Json[]): Json => stack(layers, { name: 'Compound' });

/** Sound, short: `Desk 0-50 1000 on 1`. */
const heard = (list: CutList | undefined): string[] =>
  (list?.audio ?? []).map(({ source, in: from, out, sourceIn, tracks }) => `${source} ${String(from)}-${String(out)} ${String(sourceIn)} on ${tracks.join('+')}`);

/** Messages without their place. */
const said = (lines: string[]): string[] => lines.map((line) => line.replace(/^cut\.otio:\d+:\d+: (.*) \(at .*$/, '$1'));

describe('a stack inside a track', () => {
  // OpenTimelineIO 0.18.1, Stack.available_range: the longest of its children, disabled ones too.
  it.each<[string, Json, string[]]>([
    ['with sound that is longer', compound(track([clip('A', 0, 50)]), sound([clip('Desk', 0, 100)])), ['A 50-100 0-50', 'black 100-150 0-50']],
    ['of sound alone', compound(sound([clip('Desk', 0, 100)])), ['black 50-150 0-100']],
    ['with a disabled layer alone', compound(track([clip('A', 0, 100)], { enabled: false })), ['black 50-150 0-100']],
    ['with a disabled layer that is longer', compound(track([clip('A', 0, 100)], { enabled: false }), track([clip('B', 0, 60)])), ['B 50-110 0-60', 'black 110-150 0-40']],
    ['with a layer that is longer', compound(track([clip('A', 0, 60)]), track([clip('B', 0, 100)])), ['A 50-110 0-60', 'black 110-150 0-40']],
    ['with a layer whose range is shorter', compound(track([clip('A', 0, 60)]), track([clip('B', 0, 900)], { source_range: range(5, 100) })), ['A 50-110 0-60', 'black 110-150 0-40']],
  ])('%s lasts as long as its longest', (_, inner, between) => {
    const { list } = read(timeline([track([X, inner, Y])]));
    expect(shots(list)).toEqual(['X 0-50 100-150', ...between, 'Y 150-200 100-150']);
  });

  it('is heard, on an Audio track, by its Audio track', () => {
    const inner = compound(track([clip('CamA', 0, 60)]), sound([clip('Desk', 7, 100)]));
    const { list, lines } = read(timeline([track([X, inner, Y]), sound([X, inner, Y])]));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['X 0-50 100-150', 'CamA 50-110 0-60', 'black 110-150 0-40', 'Y 150-200 100-150']);
    expect(heard(list)).toEqual(['X 0-50 100 on 1', 'Desk 50-150 7 on 1', 'Y 150-200 100 on 1']);
  });

  it.each<[string, Json]>([
    ['disabled', track([clip('Desk', 7, 50)], { kind: 'Audio', enabled: false })],
    ['empty', sound([])],
  ])('is silent, and says so, where its Audio track is %s', (_, own) => {
    const inner = compound(track([clip('CamA', 0, 50)]), own);
    const { list, lines } = read(timeline([track([X, inner, Y]), sound([X, inner, Y])]));
    expect(heard(list)).toEqual(['X 0-50 100 on 1', 'Y 100-150 100 on 1']);
    expect(said(lines)).toContainEqual(expect.stringContaining('the Audio tracks of a stack are disabled or empty; it is silent'));
  });

  it('is heard by its clips where it has no Audio track', () => {
    expect(heard(read(timeline([sound([X, compound(track([clip('CamA', 0, 60)])), Y])])).list)).toEqual(['X 0-50 100 on 1', 'CamA 50-110 0 on 1', 'Y 110-160 100 on 1']);
  });

  it('says which of its Audio tracks are not heard, unless they are a pair', () => {
    const one = read(timeline([sound([compound(sound([clip('L', 0, 50)]), sound([clip('R', 0, 50), gap(5)], 'A2'))])]));
    expect(heard(one.list)).toEqual(['L 0-50 0 on 1']);
    expect(said(one.lines)[0]).toBe("warning: the stack has 2 layers of sound; only the first is read, and what lies above it is left out: layer 2 ('A2') with 1 clip; put what is to be heard on Audio tracks of the timeline");
    expect(read(timeline([sound([compound(sound([clip('M', 0, 50)]), sound([clip('M', 0, 50)]))])])).lines.join()).not.toContain('warning');
  });

  it('on a picture track alone has sound that is lost, and says so', () => {
    const { list, lines } = read(timeline([track([X, compound(track([clip('CamA', 0, 50)]), sound([clip('Desk', 0, 50), clip('Boom', 0, 50)])), Y]), sound([clip('Desk', 0, 50)])]));
    expect(heard(list)).toEqual(['Desk 0-50 0 on 1']);
    expect(said(lines)).toEqual(["warning: a clip of sound ('Boom') in a composition on a picture track is left out, and no Audio track has the same; put the composition on an Audio track too"]);
    const two = read(timeline([track([compound(sound([clip('Desk', 0, 50), clip('Boom', 0, 50)]))])]));
    expect(said(two.lines)[0]).toBe("warning: 2 clips of sound (the first 'Desk') in a composition on a picture track are left out, and no Audio track has the same; put the composition on an Audio track too");
  });
});

describe('a stack among the tracks', () => {
  it('gives its picture and its sound', () => {
    const { list, lines } = read(timeline([compound(track([clip('CamA', 0, 100)]), sound([gap(10), clip('Desk', 0, 80)]))]));
    expect(lines).toEqual([]);
    expect([shots(list), heard(list)]).toEqual([['CamA 0-100 0-100'], ['Desk 10-90 0 on 1']]);
  });

  it('of sound alone gives each of its Audio tracks, cut to its range, and is no picture track', () => {
    const { list, lines } = read(timeline([track([clip('A', 0, 100)]), { ...compound(sound([clip('D1', 0, 100)], 'A2'), sound([clip('D2', 0, 100)]), stack([sound([clip('D3', 0, 100)])])), source_range: range(20, 60) }]));
    expect(lines).toEqual([]);
    expect(heard(list)).toEqual(['D2 0-60 20 on 1', 'D1 0-60 20 on 2', 'D3 0-60 20 on 3']);
  });
});

describe('the range of a composition', () => {
  const mixed = (from: number, length: number): Json => track([clip('A', 0, 100), mix(12, 12), clip('B', 200, 100)], { source_range: range(from, length) });

  it.each<[number, number, string[], string[]]>([
    [0, 112, ['A 0-88 0-88', 'B 88-112 188-212 dissolve 24(12)'], []],
    [0, 100, ['A 0-88 0-88', 'B 88-100 188-200 dissolve 12(11)'], ['12 of its 24']],
    [0, 95, ['A 0-88 0-88', 'B 88-95 188-195 dissolve 7(6)'], ['7 of its 24']],
    [0, 88, ['A 0-88 0-88'], []],
    [112, 50, ['B 0-50 212-262'], []],
    [150, 40, ['B 0-40 250-290'], []],
    [100, 50, ['B 0-50 200-250'], ['begins inside']],
    [105, 50, ['B 0-50 205-255'], ['begins inside']],
  ])('from %d for %d frames keeps of a mix what has a clip on both sides', (from, length, expected, words) => {
    for (const inner of [true, false]) {
      const { list, lines } = read(timeline([inner ? track([mixed(from, length)]) : mixed(from, length)]));
      expect(shots(list).map((shot) => shot.replace(/\(\d+\)$/, ''))).toEqual(expected.map((shot) => shot.replace(/\(\d+\)$/, '')));
      expect(lines.map((line) => words.find((word) => line.includes(word) && line.includes('[transition-cut-short]')))).toEqual(words);
    }
  });

  it('does not mix the clip before a composition into one whose own mix it cut', () => {
    const { list, lines } = read(timeline([track([X, mixed(100, 50), Y])]));
    expect(shots(list)).toEqual(['X 0-50 100-150', 'B 50-100 200-250', 'Y 100-150 100-150']);
    expect(lines).toHaveLength(1);
  });

  it('fills with black what lies before its first frame', () => {
    const early = (children: Json[], from: number, length: number): Json => track(children, { source_range: range(from, length), markers: [{ OTIO_SCHEMA: 'Marker.2', name: 'here', marked_range: range(5, 0) }] });
    const { list, lines } = read(timeline([track([X, early([clip('A', 0, 100)], -10, 60), Y])]));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['X 0-50 100-150', 'black 50-60 0-10', 'A 60-110 0-50', 'Y 110-160 100-150']);
    expect(list?.markers).toEqual([{ at: 65, note: 'here' }]);
    expect(shots(read(timeline([track([X, stack([track([clip('A', 0, 100)])], { source_range: range(-80, 60) }), Y])])).list)).toEqual(['X 0-50 100-150', 'black 50-110 0-60', 'Y 110-160 100-150']);
    expect(shots(read(timeline([early([clip('A', 0, 100)], -10, 60)])).list)).toEqual(['black 0-10 0-10', 'A 10-60 0-50']);
  });
});

describe('a transition at a composition', () => {
  const other = (from: number, length: number): Json => track([clip('A', 0, 100), clip('B', 200, 100)], { source_range: range(from, length) });
  const message = (frames: number, side: string): string => `warning: a transition shows ${String(frames)} frames ${side} of a composition's range, and there another clip lies; it is shortened by these`;

  it('shows no frames of a clip that the composition does not show there', () => {
    const into = read(timeline([track([X, mix(10, 10), other(100, 100)])]));
    expect([shots(into.list), said(into.lines)]).toEqual([['X 0-50 100-150', 'B 50-150 200-300 dissolve 10(0)'], [message(10, 'before the first')]]);
    const close = read(timeline([track([X, mix(10, 10), other(104, 90)])]));
    expect([shots(close.list), said(close.lines)]).toEqual([['X 0-46 100-146', 'B 46-140 200-294 dissolve 14(4)'], [message(6, 'before the first')]]);
    const out = read(timeline([track([other(0, 97), mix(10, 10), Y])]));
    expect([shots(out.list), said(out.lines)]).toEqual([['A 0-87 0-87', 'Y 87-147 90-150 dissolve 13(10)'], [message(7, 'behind the last')]]);
  });

  it('has the frames of the recording at the ends of a composition that nothing cuts off', () => {
    const { list, lines } = read(timeline([track([X, mix(10, 10), track([clip('A', 50, 100)]), mix(10, 10), Y])]));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['X 0-40 100-140', 'A 40-140 40-140 dissolve 20(10)', 'Y 140-200 90-150 dissolve 20(10)']);
    expect(read(timeline([track([X, mix(10, 10), other(150, 100)])])).lines).toEqual([]);
  });

  it('from nothing at its beginning is left out where something lies before it', () => {
    const fading = track([mix(0, 10), clip('A', 50, 100)]);
    const words = (what: string): string => `warning: a composition begins with a transition from nothing, and ${what} lies before it; it is left out`;
    const twice = read(timeline([track([X, mix(5, 5), fading])]));
    expect([shots(twice.list), said(twice.lines)]).toEqual([['X 0-45 100-145', 'A 45-150 45-150 dissolve 10(5)'], [words('another transition')]]);
    const cut = read(timeline([track([X, fading])]));
    expect([shots(cut.list), said(cut.lines)]).toEqual([['X 0-50 100-150', 'A 50-150 50-150'], [words('a clip')]]);
    const black = read(timeline([track([gap(50), fading])]));
    expect([shots(black.list), black.lines]).toEqual([['black 0-50 0-50', 'A 50-150 50-150 dissolve 10(0)'], []]);
  });
});
