import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inFrames } from '../../../src/formats/otio/times.js';
import { toFrame } from '../../../src/formats/otio/whole.js';
import { parseRate, type RateSpec } from '../../../src/timecode/rate.js';
import { clip, gap, media, mix, range, read, shots, time, timeline, track, type Json } from './documents.js';
import { otioText, richList } from './support.js';

describe('timelines of other programs', () => {
  it('read clips, gaps, and mixes that begin before the cut point', () => {
    const { list, lines } = read(timeline([track([clip('A', 100, 50), mix(5, 7), clip('B', 500, 50), gap(25), clip('A', 300, 10)])], { global_start_time: time(90_000) }));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['A 0-45 100-145', 'B 45-100 495-550 dissolve 12(5)', 'black 100-125 0-25', 'A 125-135 300-310']);
    expect(list).toMatchObject({ title: 'T', recordStart: 90_000, frames: 135 });
    expect(list?.sources.map(({ id, name }) => [id, name])).toEqual([['A', 'A'], ['B', 'B']]);
  });

  it('tell sources apart by reel, else name, else file', () => {
    const reel = (text: string): Json => ({ metadata: { cmx_3600: { reel: text } } });
    const { list } = read(timeline([track([
      clip('Scene 1', 0, 10, reel('CAM1')), clip('Scene 2', 0, 10, reel('CAM2')), clip('Scene 3', 0, 10, reel('CAM1')),
      clip('wide', 0, 10, media('file:///m/wide-1.mov')), clip('wide', 0, 10, media('file:///m/wide-2.mov')), clip('', 0, 10, media('file:///m/close%20up.mov')), clip('', 0, 10, media('file:///m/close%20up.mov')),
    ])]));
    expect(list?.sources.map(({ id, reel: r, files }) => [id, r, files.map(({ path }) => path)])).toEqual([
      ['CAM1', 'CAM1', []], ['CAM2', 'CAM2', []], ['wide', undefined, ['/m/wide-1.mov', '/m/wide-2.mov']], ['close up', undefined, ['/m/close up.mov']],
    ]);
    expect(list?.shots.map(({ source, file, clipName }) => [source, file, clipName])).toEqual([
      ['CAM1', undefined, undefined], ['CAM2', undefined, undefined], ['CAM1', undefined, 'Scene 3'], ['wide', 0, undefined], ['wide', 1, undefined], ['close up', 0, undefined], ['close up', 0, undefined],
    ]);
  });

  it('say which media a list cannot hold, once of a kind', () => {
    const of = (reference: Json): Json => ({ media_references: { DEFAULT_MEDIA: reference }, active_media_reference_key: 'DEFAULT_MEDIA' });
    const images = of({ OTIO_SCHEMA: 'ImageSequenceReference.1', target_url_base: 'file:///m', name_prefix: 'shot.', start_frame: 7, frame_zero_padding: 4, name_suffix: '.exr' });
    const bars = of({ OTIO_SCHEMA: 'GeneratorReference.1', generator_kind: 'SMPTEBars' });
    const plain = [clip('A', 0, 10, media('file:///m/a.mov')), clip('B', 0, 10, of({ OTIO_SCHEMA: 'MissingReference.1' })), clip('C', 0, 10), clip('', 0, 10, of({ OTIO_SCHEMA: 'GeneratorReference.1', generator_kind: 'black' }))];
    const { list, lines } = read(timeline([track([...plain, clip('seq', 0, 10, images), clip('more', 0, 10, images), clip('bars', 0, 10, bars), clip('bars 2', 0, 10, bars)])]));
    expect(list?.sources.find(({ id }) => id === 'seq')?.files).toEqual([{ path: '/m/shot.0007.exr' }]);
    expect(lines.map((line) => line.replace(/^cut\.otio:1:\d+: /, ''))).toEqual([
      "note: the media of the clip 'seq', and of others like it, is a sequence of images; the list knows the first image alone, and an OTIO made of it refers to that as to a file (at tracks.children[0].children[4].media_references.DEFAULT_MEDIA) [found]",
      "note: the media of the clip 'bars', and of others like it, is a GeneratorReference ('SMPTEBars'), which a list cannot hold; an OTIO made of it has a clip without media there (at tracks.children[0].children[6].media_references.DEFAULT_MEDIA) [found]",
    ]);
  });

  it('keep the ids black, program, follow and none for what they mean', () => {
    const { list } = read(timeline([track(['Program', 'BLACK', 'program', 'none', 'Follow'].map((name) => clip(name, 0, 10)))]));
    expect(list?.sources.map(({ id }) => id)).toEqual(['Program 2', 'BLACK 2', 'program 3', 'none 2', 'Follow 2']);
  });

  it('read Clip.1, Marker.1 and the old names of tracks and gaps', () => {
    const { list, lines } = read({
      OTIO_SCHEMA: 'Timeline.1', name: 'old',
      tracks: { OTIO_SCHEMA: 'Stack.1', markers: [{ OTIO_SCHEMA: 'Marker.1', name: 'here', range: range(3, 0) }], children: [
        { OTIO_SCHEMA: 'Sequence.1', kind: 'Video', children: [
          { OTIO_SCHEMA: 'Clip.1', name: 'A', source_range: range(5, 10), media_reference: { OTIO_SCHEMA: 'ExternalReference.1', target_url: 'file:///m/a.mov', available_range: range(0, 900) } },
          { OTIO_SCHEMA: 'Filler.1', source_range: range(0, 5) },
        ] },
      ] },
    });
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['A 0-10 5-15', 'black 10-15 0-5']);
    expect(list?.sources[0]?.files).toEqual([{ path: '/m/a.mov', start: 0, frames: 900 }]);
    expect(list?.markers).toEqual([{ at: 3, note: 'here' }]);
  });

  it('take a clip without source_range as its whole media', () => {
    expect(shots(read(timeline([track([{ OTIO_SCHEMA: 'Clip.2', name: 'A', ...media('a.mov', { available_range: range(40, 20) }) }])])).list)).toEqual(['A 0-20 40-60']);
  });

  it('lay nested compositions flat', () => {
    const inner = { OTIO_SCHEMA: 'Stack.1', source_range: range(5, 20), children: [track([clip('A', 100, 10), mix(2, 2), clip('B', 200, 30)])] };
    const { list, lines } = read(timeline([track([clip('X', 0, 10), inner, mix(4, 0), clip('Y', 50, 10)])]));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['X 0-10 0-10', 'A 10-13 105-108', 'B 13-26 198-211 dissolve 4(2)', 'Y 26-40 46-60 dissolve 4(4)']);
  });

  it('fill what a nested range has more than its clips, and say what a range cuts', () => {
    const inner = { OTIO_SCHEMA: 'Track.1', source_range: range(10, 40), children: [clip('A', 0, 10), mix(2, 2), clip('B', 200, 30)] };
    const { list, lines } = read(timeline([track([inner])]));
    expect(shots(list)).toEqual(['B 0-30 200-230', 'black 30-40 0-10']);
    expect(lines).toEqual(['cut.otio:1:564: warning: the range of a composition begins inside a transition; it is left out (at tracks.children[0].children[0].children[1]) [transition-cut-short]']);
  });

  it('read nested compositions that are disabled as black, and keep the markers in them', () => {
    const marker = (name: string, at: number): Json => ({ OTIO_SCHEMA: 'Marker.2', name, marked_range: range(at, 0) });
    const off = track([clip('A', 100, 10), mix(2, 2), clip('B', 200, 30, { markers: [marker('in B', 205)] })], { name: 'Break', enabled: false, source_range: range(5, 20), effects: [{ OTIO_SCHEMA: 'FreezeFrame.1' }], markers: [marker('on it', 6)] });
    const { list, lines } = read(timeline([track([clip('X', 0, 10), off, clip('Y', 50, 10), clip('Z', 100, 10, { enabled: false, markers: [marker('in Z', 103)] })])]));
    expect(shots(list)).toEqual(['X 0-10 0-10', 'black 10-30 0-20', 'Y 30-40 50-60', 'black 40-50 0-10']);
    expect(list?.markers).toEqual([{ at: 11, note: 'on it' }, { at: 20, note: 'in B' }, { at: 43, note: 'in Z' }]);
    expect(lines).toEqual([
      expect.stringMatching(/note: the Track 'Break' is disabled; it is read as black \(at tracks\.children\[0\]\.children\[1\]\) \[found\]$/),
      expect.stringMatching(/note: the clip 'Z' is disabled; it is read as black/),
    ]);
  });

  it('keep the markers of nested compositions, in as far as they are shown', () => {
    const markers = (...at: number[]): Json => ({ markers: at.map((frame) => ({ OTIO_SCHEMA: 'Marker.2', name: `at ${String(frame)}`, marked_range: range(frame, 0) })) });
    const inner = track([clip('A', 100, 10), clip('B', 200, 30)], markers(3, 7, 12));
    const outer = { OTIO_SCHEMA: 'Stack.1', source_range: range(5, 20), children: [inner], ...markers(6, 1000) };
    const { list, lines } = read(timeline([track([clip('X', 0, 10), outer, clip('Y', 50, 10)])], { global_start_time: time(90_000) }));
    expect(shots(list)).toEqual(['X 0-10 0-10', 'A 10-15 105-110', 'B 15-30 200-215', 'Y 30-40 50-60']);
    expect(list?.markers).toEqual([{ at: 11, note: 'at 6' }, { at: 12, note: 'at 7' }, { at: 17, note: 'at 12' }]);
    expect(lines.map((line) => /the marker '[^']*' lies outside what is shown/.exec(line)?.[0])).toEqual(["the marker 'at 3' lies outside what is shown", "the marker 'at 1000' lies outside what is shown"]);
  });

  it('keep the markers of black that a transition covers whole', () => {
    const markers = (...at: number[]): Json => ({ markers: at.map((frame) => ({ OTIO_SCHEMA: 'Marker.2', name: `at ${String(frame)}`, marked_range: range(frame, 0) })) });
    const children = [{ ...gap(5), ...markers(2) }, mix(5, 5), clip('A', 100, 50, markers(110)), clip('B', 200, 50)];
    const plain = read(timeline([track(children)]));
    expect(plain.lines).toEqual([]);
    expect(shots(plain.list)).toEqual(['A 0-55 95-150 dissolve 10(5)', 'B 55-105 200-250']);
    expect(plain.list?.markers).toEqual([{ at: 2, note: 'at 2' }, { at: 15, note: 'at 110' }]);
    const nested = read(timeline([track([{ OTIO_SCHEMA: 'Stack.1', children: [track(children)], ...markers(60) }])]));
    expect(nested.lines).toEqual([]);
    expect(nested.list?.markers).toEqual([{ at: 2, note: 'at 2' }, { at: 15, note: 'at 110' }, { at: 60, note: 'at 60' }]);
  });

  it('keep the markers of a stack that is longer than what is in it once', () => {
    const stack = { OTIO_SCHEMA: 'Stack.1', source_range: range(0, 20), children: [track([clip('A', 0, 10)])], markers: [{ OTIO_SCHEMA: 'Marker.2', name: 'here', marked_range: range(4, 0) }] };
    expect(read({ OTIO_SCHEMA: 'Timeline.1', name: 'T', tracks: stack }).list?.markers).toEqual([{ at: 4, note: 'here' }]);
    expect(read(timeline([track([clip('X', 0, 10), stack])])).list?.markers).toEqual([{ at: 14, note: 'here' }]);
  });

  it('refuse a change of speed of more than a clip, and say which other effects are left out', () => {
    const effects = (...given: Json[]): Json => ({ effects: given });
    const warp = (scalar: number, more: Json = {}): Json => ({ OTIO_SCHEMA: 'LinearTimeWarp.1', time_scalar: scalar, ...more });
    const inner = (more: Json): Json => ({ OTIO_SCHEMA: 'Stack.1', children: [track([clip('A', 0, 10)])], ...more });
    for (const [document, what, where] of [
      [timeline([track([inner(effects(warp(2)))])]), 'a change of speed (time_scalar 2) on a whole Stack', 'tracks.children[0].children[0].effects[0]'],
      [timeline([track([inner({ children: [track([clip('A', 0, 10)], effects(warp(-1)))] })])]), 'a change of speed (time_scalar -1) on a whole Track', 'tracks.children[0].children[0].children[0].effects[0]'],
      [timeline([track([clip('A', 0, 10)], effects({ OTIO_SCHEMA: 'FreezeFrame.1' }))]), 'a freeze frame on a whole Track', 'tracks.children[0].effects[0]'],
      [{ OTIO_SCHEMA: 'Timeline.1', name: 'T', tracks: inner(effects(warp(0.5))) }, 'a change of speed (time_scalar 0.5) on a whole Stack', 'tracks.effects[0]'],
    ] as const) {
      const { list, lines } = read(document);
      expect(list).toBeUndefined();
      expect(lines).toEqual([expect.stringContaining(`error: ${what}; speed is read on clips alone: set it on the clips inside, or put one rendered clip in its place (at ${where}) [bad-otio]`)]);
    }
    const harmless = effects(warp(1), warp(3, { enabled: false }), { OTIO_SCHEMA: 'Effect.1', effect_name: 'Blur' });
    const { list, lines } = read(timeline([track([inner(harmless)])]));
    expect(shots(list)).toEqual(['A 0-10 0-10']);
    expect(lines).toEqual([expect.stringContaining("warning: the effect 'Blur' (Effect) is no part of a cut list; it is left out (at tracks.children[0].children[0].effects[2]) [bad-otio]")]);
  });

  it('warn of layers above the first that show something', () => {
    const stack = { OTIO_SCHEMA: 'Stack.1', children: [clip('A', 0, 10), track([gap(5), clip('B', 0, 5)]), track([gap(10)])] };
    const { list, lines } = read(timeline([track([stack]), track([gap(5), stack, clip('off', 0, 5, { enabled: false })], { name: 'V2' })]));
    expect(shots(list)).toEqual(['A 0-10 0-10']);
    expect(lines).toEqual([
      expect.stringMatching(/warning: the file has 2 picture tracks; the first is read, and what lies above it is left out: layer 2 \('V2'\) with 2 clips; put what is to be seen on one track \(at tracks\.children\[1\]\) \[left-out\]$/),
      expect.stringMatching(/warning: the stack has 3 layers; only the first is read, and what lies above it is left out: layer 2 with 1 clip; put what is to be seen on one track \(at tracks\.children\[0\]\.children\[0\]\.children\[1\]\) \[left-out\]$/),
    ]);
    const { lines: notes } = read(timeline([track([{ OTIO_SCHEMA: 'Stack.1', children: [track([clip('A', 0, 10)]), track([gap(10)])] }])]));
    expect(notes).toEqual([expect.stringMatching(/note: the stack has 2 layers; only the first is read \(at tracks\.children\[0\]\.children\[0\]\.children\[0\]\) \[found\]$/)]);
  });

  it('read the first of several picture tracks that is enabled, and say so', () => {
    const { list, lines } = read(timeline([track([clip('off', 0, 9)], { enabled: false }), track([]), track([clip('A', 0, 10)], { name: 'V1' }), track([gap(10)])]));
    expect(shots(list)).toEqual(['A 0-10 0-10']);
    expect(lines).toEqual([
      expect.stringMatching(/^cut\.otio:1:\d+: note: the file has 2 picture tracks; the first \('V1'\) is read \(at tracks\.children\[2\]\) \[found\]$/),
      expect.stringMatching(/^cut\.otio:1:\d+: note: a track is disabled and left out \(at tracks\.children\[0\]\) \[found\]$/),
    ]);
    const sound = { kind: 'Audio', name: 'S', enabled: false };
    expect(read(timeline([track([clip('A', 0, 10)]), track([clip('off', 0, 9)], sound), track([clip('off', 0, 9)], sound), track([], sound)])).lines).toEqual([
      expect.stringMatching(/note: 2 tracks are disabled and left out, this \('S'\) the first \(at tracks\.children\[1\]\) \[found\]$/),
    ]);
  });

  it('read disabled clips and black generators as black', () => {
    const black = { media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'GeneratorReference.1', generator_kind: 'black' } }, active_media_reference_key: 'DEFAULT_MEDIA', metadata: { cmx_3600: { reel: 'BL' } } };
    const { list, lines } = read(timeline([track([clip('A', 0, 10, { enabled: false }), clip('003', 0, 5, black)])]));
    expect(shots(list)).toEqual(['black 0-10 0-10', 'black 10-15 0-5']);
    expect(lines).toHaveLength(1);
  });

  it('read speed: warps, freeze frames, backwards', () => {
    const warp = (scalar: number): Json => ({ effects: [{ OTIO_SCHEMA: 'LinearTimeWarp.1', time_scalar: scalar }] });
    const { list, lines } = read(timeline([track([clip('A', 100, 10, warp(2)), clip('A', 100, 10, warp(0.5)), clip('A', 100, 10, { effects: [{ OTIO_SCHEMA: 'FreezeFrame.1' }] }), clip('A', 100, 10, warp(-1)), clip('A', 0, 5, { effects: [{ OTIO_SCHEMA: 'Effect.1', effect_name: 'Blur' }] })])]));
    expect(shots(list)).toEqual(['A 0-10 100-120', 'A 10-20 100-105', 'A 20-30 100-100', 'A 30-40 100-110', 'A 40-45 0-5']);
    expect(lines.map((line) => line.replace(/^cut.otio:1:\d+: /, ''))).toEqual([
      'warning: a clip plays backwards; it is read as playing forwards from its first frame (at tracks.children[0].children[3]) [bad-otio]',
      "warning: the effect 'Blur' (Effect) is no part of a cut list; it is left out (at tracks.children[0].children[4].effects[0]) [bad-otio]",
    ]);
  });

  it('reads a mix inside a warped clip from the right source frame', () => {
    const { list } = read(timeline([track([clip('A', 0, 50), mix(10, 10), clip('B', 120, 50, { effects: [{ OTIO_SCHEMA: 'LinearTimeWarp.1', time_scalar: 2 }] })])]));
    expect(shots(list)).toEqual(['A 0-40 0-40', 'B 40-100 100-220 dissolve 20(10)']);
  });

  it('fits mixes that do not fit, and says so', () => {
    const { list, lines } = read(timeline([track([clip('A', 0, 10), mix(10, 20), clip('B', 100, 12), mix(6, 6), clip('C', 2, 50), mix(0, 30)])]));
    // A keeps a frame; B's mix ends with B; C's cannot begin before that.
    expect(shots(list)).toEqual(['A 0-1 0-1', 'B 1-22 91-112 dissolve 21(9)', 'C 22-72 2-52 dissolve 6(0)', 'black 72-102 0-30 dissolve 30(0)']);
    expect(lines.map((line) => /transition of (\d+) frames has room for (\d+)/.exec(line)?.slice(1))).toEqual([['30', '21'], ['12', '6']]);
    expect(lines.every((line) => line.includes('[transition-cut-short]'))).toBe(true);
  });

  it('shortens a mix for which the source has no frames', () => {
    const { list, lines } = read(timeline([track([clip('A', 0, 50), mix(10, 2), clip('B', 3, 50)])]));
    expect(shots(list)).toEqual(['A 0-47 0-47', 'B 47-100 0-53 dissolve 5(3)']);
    expect(lines[0]).toContain('a transition needs 10 frames before the clip\'s first, and its source has 3');
  });

  it('reads fades at both ends', () => {
    expect(shots(read(timeline([track([mix(0, 12), clip('A', 0, 50), mix(12, 0)])])).list)).toEqual(['A 0-38 0-38 dissolve 12(0)', 'black 38-50 0-12 dissolve 12(12)']);
    expect(shots(read(timeline([track([gap(6), mix(6, 6), clip('A', 10, 50)])])).list)).toEqual(['A 0-56 4-60 dissolve 12(6)']);
  });

  it('reads wipes and customs', () => {
    const { list, lines } = read(timeline([track([clip('A', 0, 50), mix(0, 5, { transition_type: 'SMPTE_Wipe', metadata: { cmx_3600: { transition: 'W017' } } }), clip('B', 0, 50), mix(0, 5, { transition_type: 'Custom_Transition' }), clip('A', 0, 50)])]));
    expect(shots(list)).toEqual(['A 0-50 0-50', 'B 50-100 0-50 wipe W17 5(0)', 'A 100-150 0-50 dissolve 5(0)']);
    expect(lines).toEqual([expect.stringContaining("a transition of type 'Custom_Transition' is read as a dissolve")]);
  });

  it('places what the reference EDL adapter writes by record timecode', () => {
    // The shape of otio-cmx3600-adapter 1.0.0: a track's range starts minus the record in-point before its first clip, and markers have record times.
    const { list } = read(timeline([
      track([clip('A', 900, 250, { markers: [{ OTIO_SCHEMA: 'Marker.2', name: 'hello', color: 'CYAN', marked_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: time(90_012), duration: time(0, 1) }, metadata: { cmx_3600: { color: 'CYAN' } } }] })], { source_range: range(-90_000, 250) }),
      track([clip('A', 1000, 100)], { kind: 'Audio', name: 'A2', source_range: range(-90_100, 100) }),
    ]));
    expect(list).toMatchObject({ recordStart: 90_000, frames: 250, markers: [{ at: 12, note: 'hello', color: 'CYAN' }] });
    expect(list?.audio).toEqual([{ source: 'A', in: 100, out: 200, sourceIn: 1000, sourceOut: 1100, tracks: [2], channels: [2], take: 0, withPicture: false }]);
  });

  it('trims a track to its range', () => {
    expect(shots(read(timeline([track([clip('A', 0, 50), clip('B', 0, 50)], { source_range: range(20, 60) })])).list)).toEqual(['A 0-30 20-50', 'B 30-60 0-30']);
  });

  it('reads sound: joined channels, free channel numbers, crossfades', () => {
    const sound = (children: Json[], name = ''): Json => track(children, { kind: 'Audio', name });
    const { list, lines } = read(timeline([
      track([clip('A', 0, 50), mix(0, 5), clip('B', 100, 50)]),
      sound([clip('A', 0, 50), mix(0, 5), clip('B', 100, 50)], 'A1'), sound([clip('A', 0, 50), mix(0, 5), clip('B', 100, 50)], 'A2'), sound([gap(30), clip('M', 7, 20), mix(2, 2), clip('N', 7, 60)]),
    ]));
    expect(list?.audio.map(({ source, in: from, out, tracks, withPicture, transition }) => [source, from, out, tracks, withPicture, transition?.frames])).toEqual([
      ['A', 0, 50, [1, 2], true, undefined], ['M', 30, 48, [3], false, undefined], ['N', 48, 110, [3], false, undefined], ['B', 50, 100, [1, 2], true, 5],
    ].sort((a, b) => (a[1] as number) - (b[1] as number)));
    expect(shots(list).at(-1)).toBe('black 100-110 0-10');
    expect(lines).toEqual([
      expect.stringContaining('a crossfade of sound that the picture does not have is read as a cut where it begins'),
      expect.stringContaining('warning: no picture from 00:00:04:00 to the end of the sound: 10 frames of black (at tracks.children[0].children[2]) [hole]'),
    ]);
  });

  it('warns of sound before the first picture', () => {
    const late = track([clip('A', 0, 50)], { source_range: range(-10, 50) });
    const { list, lines } = read(timeline([late, track([clip('M', 0, 60)], { kind: 'Audio' })]));
    expect(shots(list)).toEqual(['black 0-10 0-10', 'A 10-60 0-50']);
    expect(lines).toEqual([expect.stringContaining('warning: only sound before the first picture: 10 frames of black (at tracks.children[0].children[0]) [hole]')]);
  });

  it('reads a timeline of sound alone as black with sound', () => {
    const { list, lines } = read(timeline([track([clip('A', 0, 50)], { kind: 'Audio' })]));
    expect(shots(list)).toEqual(['black 0-50 0-50']);
    expect(lines).toEqual(['cut.otio: note: where there is sound and no picture, the picture is black [found]']);
    expect(list?.audio).toHaveLength(1);
  });

  it('places clip markers by source time, and markers with a comment', () => {
    const marker = (start: number, more: Json = {}): Json => ({ OTIO_SCHEMA: 'Marker.2', name: 'm', marked_range: range(start, 0), ...more });
    const { list, lines } = read(timeline([track([clip('A', 100, 50), clip('B', 200, 50, { markers: [marker(210, { comment: 'more', color: 'nice pink' }), marker(9)] })], { markers: [marker(60)] })]));
    expect(list?.markers).toEqual([{ at: 60, note: 'm' }, { at: 60, note: 'm: more' }]);
    expect(lines).toEqual([expect.stringContaining("warning: the marker 'm' lies outside what is shown of the clip or composition that it is on; it is left out (at tracks.children[0].children[1].markers[1]) [bad-otio]")]);
  });

  it('keeps the markers of Audio tracks, and of a trimmed track in its own time', () => {
    const markers = (...at: number[]): Json => ({ markers: at.map((frame) => ({ OTIO_SCHEMA: 'Marker.2', name: `at ${String(frame)}`, marked_range: range(frame, 0) })) });
    const sound = (more: Json): Json => track([clip('A', 0, 100)], { kind: 'Audio', ...more });
    const { list, lines } = read(timeline([track([clip('A', 0, 100)], { source_range: range(20, 60), ...markers(30) }), sound(markers(10, 40)), sound(markers(40)), sound({ source_range: range(30, 70), ...markers(40) })]));
    expect(lines.filter((line) => line.includes('warning') && !line.includes('[hole]'))).toEqual([]);
    // The third one's frame 40 is its tenth.
    expect(list?.markers).toEqual([{ at: 10, note: 'at 30' }, { at: 10, note: 'at 10' }, { at: 10, note: 'at 40' }, { at: 40, note: 'at 40' }]);
    // The shape of otio-cmx3600-adapter 1.0.0, see below.
    const late = read(timeline([track([clip('A', 0, 50)], { source_range: range(-100, 50) }), track([clip('A', 0, 20)], { kind: 'Audio', source_range: range(-130, 20), ...markers(5) })]));
    expect(late.list?.markers).toEqual([{ at: 35, note: 'at 5' }]);
  });

  it('places the markers of gaps and of black by their source time', () => {
    const markers = { markers: [{ OTIO_SCHEMA: 'Marker.2', name: 'm', marked_range: range(110, 0) }] };
    const black = { media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'GeneratorReference.1', generator_kind: 'black' } }, active_media_reference_key: 'DEFAULT_MEDIA' };
    const { list, lines } = read(timeline([track([clip('A', 0, 50), { OTIO_SCHEMA: 'Gap.1', source_range: range(100, 50), ...markers }, clip('B', 0, 50), clip('', 90, 50, { ...black, ...markers })])]));
    expect(lines).toEqual([]);
    expect(list?.markers).toEqual([{ at: 60, note: 'm' }, { at: 170, note: 'm' }]);
  });

  it('leaves out clip markers that are not shown, and does not take them for record times', () => {
    const marker = (start: number, more: Json = {}): Json => ({ OTIO_SCHEMA: 'Marker.2', name: `at ${String(start)}`, marked_range: range(start, 0), ...more });
    const whole = [clip('A', 0, 100), clip('B', 100, 20, { markers: [marker(140)] }), clip('C', 0, 100)];
    const tail = [clip('A', 0, 100), track([clip('B', 100, 50, { markers: [marker(140)] })], { source_range: range(0, 20) }), clip('C', 0, 100)];
    const head = [clip('A', 0, 100), track([gap(10), clip('B', 500, 50, { markers: [marker(503)] })], { source_range: range(15, 20) }), clip('C', 0, 400)];
    const empty = [clip('A', 0, 100), track([{ ...gap(50), markers: [marker(30)] }], { source_range: range(0, 20) }), clip('C', 0, 100)];
    const on = [clip('A', 0, 100), track([clip('B', 100, 50)], { source_range: range(0, 20), markers: [marker(130)] }), clip('C', 0, 100)];
    for (const children of [whole, tail, head, empty, on]) {
      const { list, lines } = read(timeline([track(children)]));
      expect(list?.markers).toEqual([]);
      expect(lines).toEqual([expect.stringMatching(/warning: the marker 'at \d+' lies outside what is shown of the clip or composition that it is on; it is left out \(at .*\) \[bad-otio\]$/)]);
    }
  });

  it('keeps clip markers on frames that a mix shows', () => {
    const marker = (start: number): Json => ({ OTIO_SCHEMA: 'Marker.2', name: `at ${String(start)}`, marked_range: range(start, 0) });
    const a = clip('A', 1000, 100, { markers: [marker(1105), marker(1106)] });
    const b = clip('B', 2000, 100, { markers: [marker(1990), marker(1989)] });
    const { list, lines } = read(timeline([track([a, mix(10, 5), b])]));
    expect(list?.markers).toEqual([{ at: 90, note: 'at 1990' }, { at: 105, note: 'at 1105' }]);
    expect(lines.map((line) => /the marker '(.*?)' lies outside what is shown/.exec(line)?.[1])).toEqual(['at 1106', 'at 1989']);
  });

  it('takes the times of markers that came from an EDL for record times, wherever the sources count', () => {
    const marker = { OTIO_SCHEMA: 'Marker.2', name: 'LOC', marked_range: range(90_012, 0), metadata: { cmx_3600: { color: '' } } };
    const { list } = read(timeline([track([clip('A', 90_000, 50), clip('B', 90_000, 50, { markers: [marker] })], { source_range: range(-90_000, 100) })]));
    expect(list?.markers).toEqual([{ at: 12, note: 'LOC' }]);
  });

  it('reads the first timeline of a collection, a stack or track alone, and newer schemas as the ones known', () => {
    const inner = timeline([track([clip('A', 0, 5)])]);
    expect(shots(read({ OTIO_SCHEMA: 'SerializableCollection.1', children: [inner, inner] }).list)).toEqual(['A 0-5 0-5']);
    expect(shots(read(track([clip('A', 0, 5)])).list)).toEqual(['A 0-5 0-5']);
    expect(shots(read({ OTIO_SCHEMA: 'Stack.1', children: [track([clip('A', 0, 5)])] }).list)).toEqual(['A 0-5 0-5']);
    const { list, lines } = read(timeline([track([clip('A', 0, 5, { OTIO_SCHEMA: 'Clip.7' }), clip('A', 0, 5, { OTIO_SCHEMA: 'Clip.7' })])]));
    expect(list?.shots).toHaveLength(2);
    expect(lines).toEqual([expect.stringContaining('Clip.7 is newer than the version known here (2)')]);
  });
});

describe('rates', () => {
  const at = (rate: number, start = 0): unknown => timeline([track([{ OTIO_SCHEMA: 'Clip.2', name: 'A', source_range: range(start, 50, rate) }])]);

  it.each([[23.98, '23.976'], [23.976, '23.976'], [24000 / 1001, '23.976'], [24, '24'], [29.97, '29.97'], [59.94, '59.94']])('%d is %s', (rate, name) => {
    expect(read(at(rate)).list?.count.rate.name).toBe(name);
  });

  it('does not know whether labels are drop-frame, says so, and takes it from --rate', () => {
    expect(read(at(29.97)).lines).toEqual(['cut.otio: note: rate 29.97: an OpenTimelineIO file does not say whether labels are drop-frame; say --rate 29.97df if they are [found]']);
    const { list, lines } = read(at(29.97), '29.97df');
    expect(list?.count.dropFrame).toBe(true);
    expect(lines).toEqual([]);
    expect(read(at(29.97), '29.97').lines).toHaveLength(1);
  });

  it('refuses another rate than the file has, and rates that there are none of', () => {
    expect(read(at(25), '24').lines[0]).toContain('the file is at 25, not at 24');
    expect(read(at(12)).lines[0]).toContain('the file counts 12 frames a second, which is no rate');
    expect(shots(read(at(12), '24').list)).toEqual(['A 0-100 0-100']);
  });

  it('reads times at several rates by their real time', () => {
    const media30 = { OTIO_SCHEMA: 'Clip.2', name: 'A', source_range: range(300, 60, 30), ...media('a.mov', { available_range: range(0, 9000, 30) }) };
    const { list, lines } = read(timeline([track([clip('B', 0, 50), media30, clip('B', 0, 50)])]));
    expect(lines).toEqual([]);
    expect(shots(list)).toEqual(['B 0-50 0-50', 'A 50-100 300-360', 'B 100-150 0-50']);
    expect(list?.sources.map(({ count }) => count.rate.name)).toEqual(['25', '30']);
  });

  it('decides halves exactly, halves up', () => {
    const samples = (count: number, rate = 48_000): Json => ({ OTIO_SCHEMA: 'Clip.2', name: 'D', source_range: range(0, count, rate) });
    const ends = (...clips: Json[]): unknown => read(timeline([track([clip('A', 0, 300)]), track(clips, { kind: 'Audio' })])).list?.audio.map(({ out }) => out);
    expect(ends(samples(192_960))).toEqual([101]);
    expect(ends(samples(192_959))).toEqual([100]);
    // 160 times 267/320 of a frame are 133.5.
    expect((ends(...Array.from({ length: 160 }, () => samples(1602))) as number[]).at(-1)).toBe(134);
    // 12 frames of 24 are 12.5 of 25.
    expect(ends(samples(12, 24))).toEqual([13]);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20_000_000 }), fc.constantFrom(8000, 44_100, 48_000, 96_000), fc.constantFrom('23.976', '25', '29.97', '60'), (value, rate, name) => {
        const to = (parseRate(name) as RateSpec).rate;
        const [num, den] = [BigInt(value) * BigInt(to.num), BigInt(rate) * BigInt(to.den)];
        expect(toFrame(inFrames({ value, perSecond: rate, rate: undefined }, to))).toBe(Number((2n * num + den) / (2n * den)));
      }),
    );
  });

  it('reads a mix of half frames as long as it is, at both its ends to the frame', () => {
    const halves = (first: Json): string[] => shots(read(timeline([track([clip('A', 0, 100), first, clip('B', 500, 100)])])).list);
    const at24 = { OTIO_SCHEMA: 'Transition.1', in_offset: time(12, 24), out_offset: time(12, 24), transition_type: 'SMPTE_Dissolve' };
    expect(halves(at24)).toEqual(['A 0-88 0-88', 'B 88-200 488-600 dissolve 25(12)']);
    expect(halves(mix(2.5, 2.5))).toEqual(['A 0-98 0-98', 'B 98-200 498-600 dissolve 5(2)']);
    expect(halves(mix(7.5, 8.5))).toEqual(['A 0-93 0-93', 'B 93-200 493-600 dissolve 16(7)']);
  });

  it('moves clips to whole frames without adding up', () => {
    const third = (name: string): Json => ({ OTIO_SCHEMA: 'Clip.2', name, source_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: time(0), duration: time(10 / 3) } });
    const { list, lines } = read(timeline([track(['A', 'B', 'C', 'D', 'E', 'F'].map(third))]));
    expect(list?.shots.map((shot) => shot.in)).toEqual([0, 3, 7, 10, 13, 17]);
    expect(list?.frames).toBe(20);
    expect(lines).toEqual(['cut.otio:1:138: warning: clips do not lie on whole frames; the furthest was moved by 0.333 frames, and this is the first, with a length of 3.333 (at tracks.children[0].children[0]) [bad-otio]']);
  });

  it('warns of a length at another rate that is no whole frames of the list, the last one too, and only notes it of sound', () => {
    const odd = (name: string, frames: number, rate: number): Json => ({ OTIO_SCHEMA: 'Clip.2', name, source_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: time(0), duration: time(frames, rate) } });
    const last = read(timeline([track([clip('A', 0, 50), odd('B', 7, 24)])]));
    expect(last.list?.frames).toBe(57);
    expect(last.lines).toEqual([expect.stringMatching(/warning: .*moved by 0\.292 frames, and this is the first, with a length of 7\.292 \(at tracks\.children\[0\]\.children\[1\]\) \[bad-otio\]$/)]);
    expect(read(timeline([track([clip('A', 0, 50)]), track([odd('M', 1000, 48_000), clip('M', 0, 40)], { kind: 'Audio' })])).lines).toEqual([
      'cut.otio: note: clips do not lie on whole frames; the furthest was moved by 0.479 frames [found]',
    ]);
  });

  it('says it when clips begin between two frames of their recordings, unless only rates make them', () => {
    const { list, lines } = read(timeline([track([clip('A', 100.4, 10), clip('B', 7, 10)])]));
    expect(shots(list)).toEqual(['A 0-10 100-110', 'B 10-20 7-17']);
    expect(lines).toEqual(['cut.otio: note: clips begin between two frames of their recordings; the furthest was moved by 0.400 frames [found]']);
    const media24 = { OTIO_SCHEMA: 'Clip.2', name: 'A', source_range: range(101, 50), ...media('a.mov', { available_range: range(0, 9000, 24) }) };
    expect(read(timeline([track([clip('B', 0, 50), media24])])).lines).toEqual([]);
  });

  it('warns of a clip without frames, which is left out', () => {
    const { list, lines } = read(timeline([track([clip('A', 100, 10), clip('B', 7, 0), clip('C', 0, 10)])]));
    expect(shots(list)).toEqual(['A 0-10 100-110', 'C 10-20 0-10']);
    expect(lines).toEqual(['cut.otio:1:352: warning: a clip has no frames; it is left out (at tracks.children[0].children[1]) [bad-otio]']);
  });
});

describe('broken files', () => {
  const line = (text: string): string => `{\n  "OTIO_SCHEMA": "Timeline.1",\n  "tracks": {\n    "OTIO_SCHEMA": "Stack.1",\n    "children": [{ "OTIO_SCHEMA": "Track.1", "kind": "Video", "children": [\n      ${text}\n    ] }]\n  }\n}`;

  it.each([
    ['', 'cut.otio:1:1: error: not valid JSON: the file is empty [bad-otio]'],
    ['[]', 'cut.otio:1:1: error: expected an object with OTIO_SCHEMA, found an array [bad-otio]'],
    ['{}', 'cut.otio:1:1: error: no OTIO_SCHEMA: this is not an OpenTimelineIO file [bad-otio]'],
    ['{"OTIO_SCHEMA": "Clip.2"}', 'cut.otio:1:1: error: expected a Timeline, found a Clip [bad-otio]'],
    ['{"OTIO_SCHEMA": "Timeline.1"}', 'cut.otio:1:1: error: a Timeline has no tracks [bad-otio]'],
    ['{\n "NaN \\" Infinity": "Infinity",\n "x": Infinity, "y": NaN }', 'cut.otio:3:7: error: not valid JSON: Infinity is no number that JSON has; put a number or null in its place, or write the file again without it [bad-otio]'],
    ['{"x": -Infinity}', 'cut.otio:1:7: error: not valid JSON: -Infinity is no number that JSON has; put a number or null in its place, or write the file again without it [bad-otio]'],
    ['{"x": [0, NaN]}', /^cut\.otio:1:11: error: not valid JSON: NaN is no number/],
    ['{"x": none, "y": NaN}', 'cut.otio:1:7: error: not valid JSON: text needs double quotes [bad-otio]'],
    ['{\n "OTIO_SCHEMA": "Timeline.1",,\n}', 'cut.otio:2:30: error: not valid JSON: expected a key in double quotes, or } (a comma before } is one too many) [bad-otio]'],
    ['{"OTIO_SCHEMA": "Timeline.1", "tracks": {"OTIO_SCHEMA": "Stack.1", "children": []}}', /^cut\.otio:1:1: error: the file has no time that says a rate/],
    [line('{ "OTIO_SCHEMA": "Clip.2", "name": "A", "source_range": { "OTIO_SCHEMA": "TimeRange.1", "duration": { "rate": 25, "value": "x" } } }'), /^cut\.otio:6:95: error: a time needs a number as value and one above zero as rate \(at tracks\.children\[0\]\.children\[0\]\.source_range\.duration\) \[bad-otio\]$/],
    [line('{ "OTIO_SCHEMA": "Clip.2", "name": "A", "source_range": { "duration": { "rate": 25, "value": 5 } } }, { "OTIO_SCHEMA": "Clip.2" }'), /^cut\.otio:6:109: error: a clip has neither source_range nor the available_range of its media/],
    [line('{ "OTIO_SCHEMA": "Clip.2", "name": "A", "source_range": { "duration": { "rate": 25, "value": -5 } } }'), /^cut\.otio:6:47: error: a TimeRange has the duration -5/],
    [line('{ "OTIO_SCHEMA": "Clip.2", "source_range": { "duration": { "rate": 25, "value": 1e309 } } }'), /a time needs a number/],
    [line('{ "OTIO_SCHEMA": "Gap.1", "source_range": { "duration": { "rate": 25, "value": 0 } } }'), /^/],
    ['\u0000\u0001\u0002', /^cut\.otio:1:1: error: not valid JSON/],
    ['{"a":'.repeat(100_000), /error: (not valid JSON|the file is nested too deeply)/],
    [`{"OTIO_SCHEMA":"Timeline.1","tracks":${'{"OTIO_SCHEMA":"Stack.1","children":['.repeat(60)}${']}'.repeat(60)}}`, /error/],
  ])('%.40s', (text, message) => {
    const { list, lines } = read(text);
    if (list === undefined) expect(lines[0]).toEqual(typeof message === 'string' ? message : expect.stringMatching(message));
    else expect(message).toEqual(/^/);
  });

  it('never throws, and what it reads is sound, whatever is put somewhere into a document', () => {
    const values: unknown[] = [null, -1, 0, 0.5, 1e300, 7, '', 'Clip.2', 'x', [], {}, true, [{}], { OTIO_SCHEMA: 'Gap.1' }, time(1), time(-3, 24), range(-5, 3), { linecut: { take: 9, source: 'black', event: { number: 1, action: 'cut' } } }];
    fc.assert(
      fc.property(richList({ maxShots: 5 }), fc.array(fc.record({ way: fc.array(fc.nat(), { minLength: 2, maxLength: 12 }), value: fc.constantFrom(...values), remove: fc.boolean() }), { minLength: 1, maxLength: 3 }), (list, changes) => {
        const document = JSON.parse(otioText(list, { angles: true })) as Json;
        for (const { way, value, remove } of changes) put(document, way, value, remove);
        read(document);
      }),
      { numRuns: Number(process.env['LINECUT_RUNS'] ?? 1000) },
    );
  }, 600_000);
});

/** Walks into a document by numbers, and there replaces a value, or takes it out. */
function put(document: Json, way: readonly number[], value: unknown, remove: boolean): void {
  let at: unknown = document;
  for (const [depth, step] of way.entries()) {
    const members = at as Json;
    const keys = Object.keys(members);
    const key = keys[step % Math.max(1, keys.length)];
    if (key === undefined) return;
    const next = members[key];
    if (depth === way.length - 1 || typeof next !== 'object' || next === null) {
      if (!remove) members[key] = structuredClone(value);
      else if (Array.isArray(members)) members.splice(Number(key), 1);
      else delete members[key];
      return;
    }
    at = next;
  }
}
