/** Chapters as Matroska XML: the elements of RFC 9559 clause 5.1.7, in the XML form that mkvmerge reads. */
import { create } from 'xmlbuilder2';
import { withAmpersands } from '../../ampersand.js';
import { elapsedText } from '../../timecode/elapsed.js';
import { unitsOf } from '../../timecode/rate.js';
import type { ChapterWriter } from './forms.js';
import { titleLine } from './titles.js';

const NANO = 1_000_000_000;

/** Times in nanoseconds (RFC 9559: ChapterTimeStart, ChapterTimeEnd), halves up. Each chapter is built on its own. */
export const matroska: ChapterWriter = function* (chapters, { count: { rate } }) {
  yield '<?xml version="1.0" encoding="UTF-8"?>\n<Chapters>\n  <EditionEntry>\n';
  for (const [index, chapter] of chapters.entries()) {
    const atom = create().ele('ChapterAtom');
    atom.ele('ChapterTimeStart').txt(elapsedText(unitsOf(chapter.at, rate, NANO), NANO, 2));
    atom.ele('ChapterTimeEnd').txt(elapsedText(unitsOf(chapter.end, rate, NANO), NANO, 2));
    const display = atom.ele('ChapterDisplay');
    display.ele('ChapterString').txt(withAmpersands(titleLine(chapter, index)));
    display.ele('ChapterLanguage').txt('und');
    display.ele('ChapLanguageIETF').txt('und');
    yield `${atom.toString({ prettyPrint: true, offset: 2 })}\n`;
  }
  yield '  </EditionEntry>\n</Chapters>\n';
};
