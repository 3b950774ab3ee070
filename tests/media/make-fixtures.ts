/**
 * Makes fixtures/media with ffmpeg (5.1 or later): npx tsx tests/media/make-fixtures.ts
 * The files are committed, so that the tests need no ffmpeg; this script says what is in them.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { withCount, withSecondRun } from './craft.js';

const folder = new URL('../../fixtures/media/', import.meta.url).pathname;

function make(name: string, rate: string, frames: number, options: readonly string[]): void {
  execFileSync('ffmpeg', [
    '-hide_banner', '-loglevel', 'error', '-y', '-f', 'lavfi', '-i', `color=gray:s=16x16:r=${rate}`, '-frames:v', String(frames),
    ...options, '-fflags', '+bitexact', '-flags:v', '+bitexact', folder + name,
  ]);
}

const change = (name: string, by: (file: Buffer) => Buffer): void => { writeFileSync(folder + name, by(readFileSync(folder + name))); };

const MPEG4 = ['-c:v', 'mpeg4'];
// One recording in two files, across the labels that drop-frame skips.
make('wide-1.mov', '30000/1001', 12, [...MPEG4, '-timecode', '10:00:59;24']);
make('wide-2.mov', '30000/1001', 12, [...MPEG4, '-timecode', '10:01:00;08']);
make('wide-3.mov', '30000/1001', 5, [...MPEG4, '-timecode', '10:01:01;00']);
// 59.94 frames a second, labels that count pairs: 10:00:59;24 at 29.97.
make('close.mov', '60000/1001', 24, [...MPEG4, '-timecode', '10:00:59;48']);
change('close.mov', (file) => withCount(file, { timescale: 30000, frameDuration: 1001, perSecond: 30, frame: 1_080_714 }));
make('slides.mp4', '25', 10, ['-c:v', 'libx264', '-x264-params', 'bframes=2', '-timecode', '10:00:59:13']);
make('overhead.mkv', '30', 13, [...MPEG4, '-timecode', '10:00:59:24']);
make('program.mxf', '30000/1001', 12, ['-c:v', 'mpeg2video', '-timecode', '10:00:59;24']);
// The timecode track of the first jumps after four frames; that of the second goes on in another entry.
make('jump.mov', '25', 10, [...MPEG4, '-timecode', '10:00:00:00']);
change('jump.mov', (file) => withSecondRun(file, 4, 900_500, 10, 512));
make('joined.mov', '25', 10, [...MPEG4, '-timecode', '10:00:00:00']);
change('joined.mov', (file) => withSecondRun(file, 4, 900_004, 10, 512));
// Fragments, as a recorder writes them that must survive a power cut; the last is cut off.
make('fragments.mp4', '25', 20, [...MPEG4, '-g', '5', '-movflags', 'frag_keyframe+empty_moov']);
change('fragments.mp4', (file) => file.subarray(0, file.lastIndexOf('mdat') + 40));
// A recording whose index was never written.
writeFileSync(`${folder}broken.mov`, readFileSync(`${folder}wide-1.mov`).subarray(0, 700));
// Sound: 36,036 s after midnight, which is 10:00:00;00 + 36 s: 10:00:36;02 at 29.97df, and 17 samples more.
execFileSync('ffmpeg', [
  '-hide_banner', '-loglevel', 'error', '-y', '-f', 'lavfi', '-i', 'anullsrc=r=8000:cl=stereo', '-t', '0.25',
  '-write_bext', '1', '-metadata', `time_reference=${String(36_036 * 8000 + 17)}`, '-fflags', '+bitexact', `${folder}desk.wav`,
]);
