/** Nothing is said of what is sound: lists of every kind, in every form. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chapterKind, kindOf } from '../../src/check/kind.js';
import { CHAPTER_FORMS } from '../../src/formats/chapters/forms.js';
import { MAPPING_KEYS, SHOW_KEYS } from '../../src/schema/compiled.js';
import { arbitraryList } from '../support/lists.js';
import { listOf } from '../support/small.js';
import { chaptersOf, checkAll, edlOf, otioOf, said } from './written.js';

const RUNS = Number(process.env['LINECUT_RUNS'] ?? 1000);

describe('1,000 sound random lists', () => {
  it('raise nothing, as EDL, OTIO and chapters, each by itself and together', async () => {
    await fc.assert(fc.asyncProperty(arbitraryList({ maxShots: 20 }), fc.constantFrom(...CHAPTER_FORMS), async (list, form) => {
      const files = [...edlOf(list), otioOf(list), await chaptersOf(list, form)];
      const checked = await checkAll(files);
      expect(checked.map(({ kind }) => kind)).toEqual([...files.slice(0, -2).map(() => 'edl'), 'otio', 'chapters']);
      expect(said(checked)).toEqual([]);
    }), { numRuns: RUNS });
  }, 240_000);

  it('raise nothing when a source runs at another rate, but that it does', async () => {
    await fc.assert(fc.asyncProperty(arbitraryList({ otherRates: true, maxShots: 12 }), async (list) => {
      const checked = await checkAll([...edlOf(list), otioOf(list)]);
      expect(said(checked).filter((line) => !line.includes('[rate-differs]'))).toEqual([]);
    }), { numRuns: 200 });
  });
});

describe('a list of 2,500 shots', () => {
  it('raises nothing in its three parts and beside its OTIO', async () => {
    const list = listOf(Array.from({ length: 2500 }, (_, index) => `${String(1 + (index % 4))}:${String(10 + (index % 7))}${index % 5 === 3 ? 'd8' : ''}`).join(' '), 'follow');
    const parts = edlOf(list);
    expect(parts.map(({ name }) => name)).toEqual(['show-1.edl', 'show-2.edl', 'show-3.edl']);
    expect(said(await checkAll([...parts, otioOf(list)]))).toEqual([]);
    // A part that is missing is missed.
    const [first, , third] = parts;
    if (first === undefined || third === undefined) throw new Error('not three parts');
    expect(said(await checkAll([first, { ...third, name: 'show-2.edl' }])).join()).toContain('[hole]');
  });
});

describe('what a file is', () => {
  it('is found out from its content', () => {
    expect(kindOf('TITLE: x\n', 'a')).toBe('edl');
    expect(kindOf('\uFEFF001  WIDE     V     C        10:00:00:00 10:00:01:00 01:00:00:00 01:00:01:00\n', 'a')).toBe('edl');
    expect(kindOf('{"OTIO_SCHEMA": "Timeline.1"}', 'a.json')).toBe('otio');
    expect(kindOf('{"OTIO_SCHEMA": "Timeline.1",', 'a.json')).toBe('otio');
    expect(kindOf('{"sources": []}', 'a')).toBe('show file');
    expect(kindOf('{"sources": {"CAM 1": "1"}}', 'a')).toBe('mapping file');
    expect(kindOf('{"fields": {}}', 'a')).toBe('mapping file');
    // Both have a rate, and both name sources.
    for (const key of MAPPING_KEYS) expect([key, kindOf(`{"${key}": {}}`, 'a.json')]).toEqual([key, key === 'rate' ? 'show file' : 'mapping file']);
    for (const key of SHOW_KEYS) expect([key, kindOf(`{"${key}": []}`, 'a.map.json')]).toEqual([key, key === 'rate' ? 'mapping file' : 'show file']);
    expect(kindOf('{"corrections": []}', 'a')).toBe('corrections');
    expect(kindOf('[]', 'a')).toBe('corrections');
    expect(kindOf('\uFEFFDo;At;"Expect";frames\ndissolve;01:00:10:00;2;25\n', 'a')).toBe('corrections');
    expect(kindOf('at,do,note\n01:00:05:00,add-marker,The stock\n', 'a')).toBe('corrections');
    expect(kindOf('at,do,source\n01:00:05:00,cut,1\n', 'a')).toBe('log');
    expect(kindOf('{', 'switcher.map.json')).toBe('mapping file');
    expect(kindOf('time,action,source\n10:00:00:00,cut,1\n', 'a')).toBe('log');
    expect(kindOf('10:00:00:00 cut 1\n', 'a')).toBe('log');
    expect(kindOf('<?xml version="1.0"?><cutlog/>', 'a')).toBe('log');
    expect(kindOf('WEBVTT\n', 'a')).toBe('chapters');
    expect(chapterKind('0:00:00 Harbour Kitchen 14\n0:01:00 The stock\n', 'a')).toBe('text');
    expect(chapterKind(';FFMETADATA1\n', 'a')).toBe('ffmetadata');
    expect(chapterKind('<?xml version="1.0"?>\n<!DOCTYPE Chapters SYSTEM "matroskachapters.dtd">\n<Chapters/>', 'a')).toBe('matroska');
  });

  it('is held against its log in its parts as in one, and each part is told of its own shots', async () => {
    const text = Array.from({ length: 2500 }, (_, index) => `${String(1 + (index % 4))}:10`);
    const list = listOf(text.join(' '));
    const parts = await checkAll([...edlOf(list), otioOf(list)], {}, list);
    expect(said(parts)).toEqual([]);
    expect(parts.map(({ accounted }) => accounted)).toEqual([999, 999, 502, 2500].map((count) => ({ switches: count, found: count })));
    const logged = listOf(text.map((word, index) => (index === 1200 ? '4:10' : word)).join(' '));
    const [first, second, third] = await checkAll([...edlOf(list)], {}, logged);
    expect([first, third].flatMap((part) => part?.findings.sorted)).toEqual([]);
    expect(second?.findings.sorted.map(({ at, message, place }) => [at, place?.file, message])).toEqual([
      [2010, 'show-2.edl', 'from 01:08:00:00, for 10 frames: the log has Camera 4 (4) on air, the list Camera 1 (1)'],
    ]);
    expect(edlOf(list)[1]?.text.split('\r\n')[(second?.findings.sorted[0]?.place?.line ?? 0) - 1]).toContain(' 01:08:00:00 01:08:00:10');
    expect(second?.accounted).toEqual({ switches: 999, found: 998 });
  });
});
