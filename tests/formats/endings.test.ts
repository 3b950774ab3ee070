/** How our files are called, and what a name says of a file. */
import { describe, expect, it } from 'vitest';
import { CHAPTER_FORMS, FORMS } from '../../src/formats/chapters/forms.js';
import { chapterFormOf, endingsOf, formatOf, partEnding, partIn, stemOf, takeEnding, takeIn, withoutPart, withoutTake } from '../../src/formats/endings.js';
import { FORMATS } from '../../src/formats/output.js';

describe('the ending of a file', () => {
  it('says the format, and goes whole from the name', () => {
    for (const format of FORMATS) {
      for (const ending of endingsOf(format)) {
        for (const name of [`a.b/SHOW.x${ending}`, `a.b/SHOW.x${ending.toUpperCase()}`]) expect([formatOf(name), stemOf(name)]).toEqual([format, 'a.b/SHOW.x']);
      }
    }
    for (const form of CHAPTER_FORMS) expect([chapterFormOf(`show${FORMS[form].ending}`), formatOf(`show${FORMS[form].ending}`)]).toEqual([form, 'chapters']);
  });

  it('is one of ours in whole only', () => {
    for (const name of ['show.csv', 'show.xml', 'show.txt', 'show.chapters.csv', 'chapters.txt', 'show.edl.bak', 'edl']) expect([name, formatOf(name), chapterFormOf(name)]).toEqual([name, undefined, undefined]);
    expect(['show.csv', 'a.b/show', 'show', 'show.final.EDL'].map(stemOf)).toEqual(['show', 'a.b/show', 'show', 'show.final']);
  });

  it('tells the forms of chapters apart', () => {
    const endings = FORMATS.flatMap(endingsOf);
    expect(new Set(endings).size).toBe(endings.length);
  });
});

describe('the name of a take and of a part', () => {
  it('is found in what was made of it', () => {
    for (const take of [1, 2, 17]) for (const part of ['', '-1', '-12']) expect(takeIn(`a/b.c${takeEnding(take)}${part}`)).toBe(take);
    for (const name of ['show', 'show-2', 'show.take', 'show.take0', 'show.take2.x', 'take2']) expect(takeIn(name)).toBeUndefined();
    for (const part of [1, 2, 17]) expect(partIn(`a-1.b/show.take2${partEnding(part)}.edl`)).toEqual({ stem: 'a-1.b/show.take2', part, ending: '.edl' });
    for (const name of ['show.edl', 'show-0.edl', 'show-2', 'a-1.b/show', 'show-2x.edl']) expect(partIn(name)).toBeUndefined();
    expect(withoutTake(withoutPart(`show${takeEnding(3)}${partEnding(2)}`))).toBe('show');
  });
});
