/** The columns and lengths of the CMX3600 layout (SMPTE 258M; contract §6), which tolerant readers do not look at. */
import { withoutMark } from '../byte-order-mark.js';
import { problem, type Report } from '../problems.js';
import { formatTimecode } from '../timecode/timecode.js';
import { CLASSIC_MIX, LONGEST_MIX, MAX_EVENTS, REEL_LENGTH, TITLE_LENGTH } from '../formats/edl/columns.js';
import type { EdlDocument } from '../formats/edl/document.js';

const LABEL = String.raw`\d\d[:;.,]\d\d[:;.,]\d\d[:;.,]\d\d`;

/** Event, two blanks, reel, blank, channels, two blanks, kind, blank, length, four timecodes with a blank between. */
const EVENT = new RegExp(`^(\\d{3,9}) {2}([!-~][ -~]*) ([A-Z0-9/ ]{4}) {2}([A-Z][A-Z0-9 ]{3}) (\\d{3}| {3}) ${LABEL} ${LABEL} ${LABEL} ${LABEL} *$`);

/** Reports `outside-format` and `long-transition`, each with its line. */
export function checkEdlFormat(text: string, document: EdlDocument, report: Report): void {
  const { file } = document;
  const say = (message: string, line: number, column = 1): void => { report(problem('outside-format', message, { file, line, column })); };
  let title = false;
  let foreign = false;
  const reels = new Set<string>();
  withoutMark(text).split(/\r\n|\r|\n/).forEach((content, index) => {
    const line = index + 1;
    const odd = /[^\x20-\x7e]/.exec(content.replace(/\x1a$/, ''));
    if (odd !== null && !foreign) {
      foreign = true;
      say(`the line has ${odd[0] === '\t' ? 'a tab' : `'${odd[0]}'`}; an EDL is plain ASCII (said once a list)`, line, odd.index + 1);
    }
    const named = /^\s*TITLE:\s*(.*)$/i.exec(content);
    if (named !== null) {
      title = true;
      const length = (named[1] ?? '').trimEnd().length;
      if (length > TITLE_LENGTH) say(`the title has ${String(length)} characters; at most ${String(TITLE_LENGTH)} are safe`, line);
    }
    if (!/^\s*\d+\s/.test(content)) return;
    const parts = EVENT.exec(content);
    if (parts === null) {
      slipped(content, line, say);
      return;
    }
    const [, number = '', reel = ''] = parts;
    if (number.length > 3) say(`event number ${number} has more than three digits; a list holds at most ${String(MAX_EVENTS)} events`, line);
    const name = reel.trimEnd();
    const wrong = name.length > REEL_LENGTH
      ? `reel ${name} has ${String(name.length)} characters; the format has ${String(REEL_LENGTH)}, and systems that keep to it cut the rest (said once a reel)`
      : `the reel column is ${String(reel.length)} wide, and ${String(REEL_LENGTH)} in the format (said once a list)`;
    if (reel.length === REEL_LENGTH || reels.has(wrong)) return;
    reels.add(wrong);
    say(wrong, line, number.length + 3);
  });
  if (!title) say('the list has no TITLE line', 1);
  checkMixes(document, report);
}

/** Says where the columns of a line leave the format, and what the line would be in it, where that can be told. */
function slipped(content: string, line: number, say: (message: string, line: number, column?: number) => void): void {
  const [number = '', reel = '', channels = '', kind = '', ...rest] = content.trim().split(/\s+/);
  const length = rest.length === 5 ? rest.shift() : '';
  if (rest.length !== 4 || length === undefined || length.length > 3) {
    say('the line does not have the fields of an event: number, reel, channels, kind, length of a mix, four timecodes', line);
    return;
  }
  const right = `${number.padStart(3, '0')}  ${reel.padEnd(REEL_LENGTH)} ${channels.padEnd(4)}  ${kind.padEnd(4)} ${length.padStart(3)} ${rest.join(' ')}`;
  let column = 0;
  while (column < right.length && right[column] === content[column]) column += 1;
  say(`the columns are not where the format has them; expected '${right}'`, line, column + 1);
}

function checkMixes({ events, file, count }: EdlDocument, report: Report): void {
  for (const { frames, kind, line, number, recordIn } of events) {
    if (frames <= CLASSIC_MIX) continue;
    const message = `event ${String(number)}: the ${kind} at ${formatTimecode(recordIn, count)} takes ${String(frames)} frames; the classic field ends at ${String(CLASSIC_MIX)}`;
    report(problem('long-transition', message, { file, line, column: 1 }, frames > LONGEST_MIX ? 'error' : 'warning'));
  }
}
