/** Small lists written as one line, for examples in tests: 25 fps, cameras 1 to 4 in sync, an hour into the day. */
import { BLACK, type AudioPiece, type CutList, type Shot, type Source } from '../../src/cutlist/model.js';
import { rateOf, type Count, type Rate } from '../../src/timecode/rate.js';

export const P25: Count = { rate: rateOf(25, 1) as Rate, dropFrame: false };

export const camera = (id: string, more: Partial<Source> = {}): Source =>
  ({ id, name: `Camera ${id}`, aliases: [], picture: true, recorded: true, count: P25, starts: [], offset: 0, files: [], ...more });

/**
 * `1:100` a shot on source 1 of 100 frames, `2:30d12` one that comes on by a dissolve of 12, `2:30w12` by a wipe; `3:30@5` has its source
 * points 5 frames later than in sync; `/` begins a take. With `follow`, sound is cut with the picture.
 */
export function listOf(text: string, sound: 'follow' | 'none' = 'none', more: Partial<CutList> = {}): CutList {
  const shots: Shot[] = [];
  const takes: { in: number; out: number; logIn: number }[] = [];
  let at = 0;
  for (const word of text.split(' ')) {
    if (word === '/' || takes.length === 0) takes.push({ in: at, out: at, logIn: 90_000 + at });
    if (word === '/') continue;
    const [, id = '', frames = '', kind, mix, slip = '0'] = /^(\w+):(\d+)(?:([dw])(\d+))?(?:@(-?\d+))?$/.exec(word) ?? [];
    const out = at + Number(frames);
    const into = id === BLACK ? 0 : 90_000 + at + Number(slip);
    shots.push({
      source: id, in: at, out, sourceIn: into, sourceOut: into + Number(frames), take: takes.length - 1,
      ...(kind === undefined ? {} : { transition: kind === 'd' ? { kind: 'dissolve', frames: Number(mix), inOffset: 0 } : { kind: 'wipe', frames: Number(mix), wipe: 17, inOffset: 0 } }),
    });
    at = out;
    (takes.at(-1) as { out: number }).out = out;
  }
  const audio: AudioPiece[] = sound === 'none' ? [] : shots.map((shot) => ({ ...shot, tracks: [1, 2], channels: [1, 2], withPicture: true }));
  return { title: 'Harbour Kitchen 14', count: P25, recordStart: 90_000, frames: at, sources: ['1', '2', '3', '4'].map((id) => camera(id)), takes, shots, audio, markers: [], ...more };
}

/** The other way round: source, frames, mix, and slip where there is one. */
export const textOf = (list: CutList): string =>
  list.shots.map((shot, index) => {
    const take = index > 0 && shot.take !== list.shots[index - 1]?.take ? '/ ' : '';
    const mix = shot.transition === undefined ? '' : `${shot.transition.kind === 'wipe' ? 'w' : 'd'}${String(shot.transition.frames)}`;
    const slip = shot.source === BLACK ? 0 : shot.sourceIn - 90_000 - shot.in;
    return `${take}${shot.source}:${String(shot.out - shot.in)}${mix}${slip === 0 ? '' : `@${String(slip)}`}`;
  }).join(' ');
