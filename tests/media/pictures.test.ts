import { describe, expect, test } from 'vitest';
import { groupRecordings } from '../../src/media/group.js';
import type { Placed } from '../../src/media/order.js';
import { pictureDifferences } from '../../src/media/pictures.js';
import type { Scan } from '../../src/media/recording.js';
import { made } from './support.js';

function look(file: Placed, width: number, height: number, scan?: Scan): Placed {
  const { recording } = file;
  return { ...file, recording: { ...recording, picture: { width, height, varying: false, ...(scan === undefined ? {} : { scan }) } } };
}

const said = (files: readonly Placed[]): string[] => pictureDifferences(groupRecordings(files).groups).map(({ message, place }) => `${place?.file ?? ''}: ${message}`);

describe('pictures that differ', () => {
  test('from the program recording', () => {
    expect(said([look(made('pgm.mov'), 1920, 1080, 'top first'), look(made('wide.mov'), 1920, 1080, 'top first'), look(made('slides.mov'), 1024, 768, 'progressive')]))
      .toEqual(["media/slides.mov: source 'slides' is 1024x768 progressive, and the program recording is 1920x1080 top first"]);
  });

  test('from most sources, where there is no program recording; each look of a source once', () => {
    expect(said([
      look(made('a.mov'), 1280, 720, 'progressive'), look(made('b.mov'), 1280, 720, 'progressive'), made('c.wav', { sound: true }),
      look(made('d0001.mov', { start: 0 }), 1920, 1080), look(made('d0002.mov', { start: 1000 }), 1920, 1080), look(made('d0003.mov', { start: 2000 }), 1280, 720, 'progressive'),
    ])).toEqual(["media/d0001.mov: source 'd' is 1920x1080, and most are 1280x720 progressive"]);
  });

  test('nothing where all are alike, or there are none', () => {
    expect(said([])).toEqual([]);
    expect(said([made('c.wav', { sound: true })])).toEqual([]);
    expect(said([look(made('a.mov'), 1280, 720), look(made('b.mov'), 1280, 720)])).toEqual([]);
  });
});
