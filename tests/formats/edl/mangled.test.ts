/**
 * EDLs as they should not be. Each is read right, or what is wrong is said with line and column; never neither. All are of our
 * own making. Shots: `reel record-in>out source-in>out mix`, frames of the list and of the source; sound with its channels in front.
 */
import { describe, expect, it } from 'vitest';
import { BLACK, type AudioPiece, type CutList, type Shot } from '../../../src/cutlist/model.js';
import { listFaults } from '../../../src/cutlist/validate.js';
import { readEdl } from '../../../src/formats/edl/read.js';
import type { Problem } from '../../../src/problems.js';
import { isFault } from '../../../src/problems.js';
import { countName, parseRate } from '../../../src/timecode/rate.js';

interface Case {
  readonly what: string;
  readonly text: string | readonly string[];
  /** As `--rate`; 25 where nothing is said, none where it is empty. */
  readonly rate?: string;
  /** Undefined where no list can be made. */
  readonly shots?: readonly string[];
  readonly sound?: readonly string[];
  /** `line:column severity code`, in order of report. */
  readonly problems?: readonly string[];
  readonly check?: (list: CutList, problems: readonly Problem[]) => void;
}

const A = '001  WIDE     V     C        10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00';
const B = '002  CLOSE    V     C        10:00:02:00 10:00:04:00 01:00:02:00 01:00:04:00';
const AB = ['WIDE 0>50 900000>900050', 'CLOSE 50>100 900050>900100'];
/** A, played backwards, as far as its source side says it. */
const BACK = A.replace('10:00:00:00 10:00:02:00', '10:00:02:00 10:00:00:00');
const HEAD = ['TITLE: Harbour Kitchen 14', 'FCM: NON-DROP FRAME'];

/** A mix from A to B, and what is read of both. */
const MIX = ['002  WIDE     V     C        10:00:02:00 10:00:02:00 01:00:02:00 01:00:02:00', B.replace('C       ', 'D    012')];
const MIXED = [AB[0] ?? '', 'CLOSE 50>100 900050>900100 dissolve 12'];

/** The file of each shot. */
const filesOf = ({ shots, sources }: CutList): (string | undefined)[] => shots.map(({ source, file }) => sources.find(({ id }) => id === source)?.files[file ?? -1]?.path);

const CASES: readonly Case[] = [
  { what: 'tabs between columns', text: ['TITLE:\tSoup', A.replace(/ +/g, '\t'), B.replace(/ +/g, '\t')], shots: AB, check: ({ title }) => { expect(title).toBe('Soup'); } },
  { what: 'columns as short as they can be', text: [A.replace(/ +/g, ' '), B.replace(/ +/g, ' ')], shots: AB },
  { what: 'columns much too wide, and white space before', text: [`   ${A.replace(/ +/g, '      ')}`, `\t${B}   `], shots: AB },
  { what: 'event numbers of four digits, and of one', text: [A.replace('001', '0001'), B.replace('002', '2')], shots: AB },
  { what: 'LF', text: [...HEAD, A, B].join('\n'), shots: AB },
  { what: 'CR alone', text: [...HEAD, A, B].join('\r'), shots: AB },
  { what: 'line ends of all kinds, blank lines, a byte order mark and an end-of-file mark', text: `\uFEFF${HEAD[0] ?? ''}\r\n\n${A}\r\r\n\n${B}\n\x1a`, shots: AB },
  { what: 'no line end at the end', text: [A, B].join('\r\n'), shots: AB },
  { what: 'lower case', text: [...HEAD, A, B].join('\n').toLowerCase(), shots: AB, check: ({ title }) => { expect(title).toBe('harbour kitchen 14'); } },
  { what: 'no title', text: [A, B], shots: AB, check: ({ title }) => { expect(title).toBe('show'); } },
  { what: 'dots in labels', text: [A.replaceAll(':', '.'), B.replace(/:(\d\d)(?= |$)/g, '.$1')], shots: AB },
  {
    what: 'commas for drop-frame', rate: '29.97', text: ['001  WIDE  V  C  10:00:00,00 10:00:02,00 01:00:59,28 01:01:02,00'],
    shots: ['WIDE 0>60 1078920>1078980'], check: ({ count, recordStart }) => { expect([countName(count), recordStart]).toEqual(['29.97df', 109_690]); },
  },
  { what: 'semicolons in every place', rate: '29.97', text: ['001  WIDE  V  C  10;00;00;00 10;00;02;00 01;00;00;00 01;00;02;00'], shots: ['WIDE 0>60 1078920>1078980'] },
  {
    what: 'hours of one digit, and a record side that begins anywhere', text: ['001 WIDE V C 1:00:00:00 1:00:02:00 23:59:59:00 0:00:01:00'], shots: ['WIDE 0>50 90000>90050'],
    check: ({ recordStart }) => { expect(recordStart).toBe(2_159_975); },
  },
  {
    what: 'FCM lines that change between events', rate: '29.97', shots: ['WIDE 0>60 1078920>1078980', 'CLOSE 60>120 1080000>1080060', 'WIDE 120>180 1078920>1078980'],
    text: ['FCM: DROP FRAME', '001 WIDE V C 10:00:00:00 10:00:02:00 01:00:00:00 01:00:02:00', 'FCM: NON-DROP FRAME', '002 CLOSE V C 10:00:00:00 10:00:02:00 01:00:02:00 01:00:04:00', 'FCM: DROP FRAME', '003 WIDE V C 10:00:00:00 10:00:02:00 01:00:04:00 01:00:06:00'],
    check: ({ count, sources }) => { expect([countName(count), ...sources.map((source) => countName(source.count))]).toEqual(['29.97df', '29.97df', '29.97']); },
  },
  { what: 'an FCM line spelled otherwise', rate: '29.97', text: ['fcm:non drop frame', '001 WIDE V C 10:00:00:00 10:00:02:00 01:01:00:00 01:01:02:00'], shots: ['WIDE 0>60 1080000>1080060'] },
  { what: 'an FCM line that says nothing', text: ['FCM: SOMETIMES', A], shots: AB.slice(0, 1), problems: ['1:1 warning bad-event'] },
  {
    what: 'drop-frame marks under FCM: NON-DROP FRAME', rate: '29.97', text: ['FCM: NON-DROP FRAME', '001 WIDE V C 10:00:00;00 10:00:02;00 01:00:00;00 01:00:02;00', '002 WIDE V C 10:00:00;00 10:00:02;00 01:00:02;00 01:00:04;00'],
    shots: ['WIDE 0>60 1078920>1078980', 'WIDE 60>120 1078920>1078980'], problems: ['2:38 warning bad-event', '2:14 warning bad-event'],
  },
  {
    what: 'marks that change from line to line', rate: '29.97', text: ['001 WIDE V C 00:00:00;00 00:00:02;00 00:00:00;00 00:00:02;00', '002 WIDE V C 00:00:02:00 00:00:04:00 00:00:02:00 00:00:04:00'],
    shots: ['WIDE 0>60 0>60', 'WIDE 60>120 60>120'], problems: ['2:38 warning bad-event'],
  },
  {
    what: 'marks that change under FCM: DROP FRAME', rate: '29.97', text: ['FCM: DROP FRAME', '001 WIDE V C 00:00:00;00 00:00:02;00 00:00:58;00 00:01:00;02', '002 WIDE V C 00:00:02;00 00:00:04;00 00:01:00:02 00:01:02;02', '003 WIDE V C 00:00:04;00 00:00:06;00 00:01:02:02 00:01:04;02'],
    shots: ['WIDE 0>60 0>60', 'WIDE 60>120 60>120', 'WIDE 120>180 120>180'], problems: ['3:38 warning bad-event'],
    check: (_, problems) => { expect(problems[0]?.message).toBe('00:01:00:02 is not marked drop-frame, other than the labels before it; all are read as drop-frame'); },
  },
  { what: 'a record out-point of another mark', rate: '29.97', text: ['FCM: DROP FRAME', '001 WIDE V C 00:00:00;00 00:00:02;00 00:00:00;00 00:00:02:00'], shots: ['WIDE 0>60 0>60'], problems: ['2:50 warning bad-event'] },
  { what: 'no marks under FCM: DROP FRAME', rate: '29.97', text: ['FCM: DROP FRAME', '001 WIDE V C 00:00:00:00 00:00:02:00 00:00:58:00 00:01:00:02', '002 WIDE V C 00:00:02:00 00:00:04:00 00:01:00:02 00:01:02:02'], shots: ['WIDE 0>60 0>60', 'WIDE 60>120 60>120'] },
  { what: 'drop-frame labels at a rate without', text: [...HEAD, A.replace('01:00:02:00', '01:00:02;00')], problems: ['3:66 error bad-rate'] },
  { what: 'a label that drop-frame skips', rate: '29.97df', text: ['001  WIDE     V     C        10:00:00;00 10:00:01;00 01:01:00;00 01:01:01;02'], shots: ['WIDE 0>30 1078920>1078950'], problems: ['1:54 error dropped-label'] },
  {
    what: 'a skipped label at the end', rate: '29.97df', text: ['001  WIDE     V     C        10:00:00;00 10:00:00;04 01:00:59;28 01:01:00;01', '002  WIDE     V     C        10:00:02;00 10:00:03;00 01:01:00;02 01:01:01;02'],
    shots: ['WIDE 0>2 1078920>1078924', 'WIDE 2>32 1078980>1079010'], problems: ['1:66 error dropped-label', '1:30 error length-differs'],
  },
  { what: 'an hour past 23', text: [A, B.replace('10:00:04:00', '24:00:04:00')], shots: AB.slice(0, 1), problems: ['2:42 error bad-time'] },
  { what: 'a frame past the rate', text: [A.replace('10:00:00:00', '10:00:00:25'), B], shots: ['CLOSE 0>50 900050>900100'], problems: ['1:30 error bad-time'] },
  { what: 'a label with letters', text: [A, B.replace('01:00:02:00', '01:OO:02:00')], shots: AB.slice(0, 1), problems: ['2:54 error bad-event'] },
  { what: 'three labels', text: [A, B.slice(0, 64)], shots: AB.slice(0, 1), problems: ['2:54 error bad-event'] },
  { what: 'no label', text: [A, '002  CLOSE    V     C'], shots: AB.slice(0, 1), problems: ['2:21 error bad-event'] },
  { what: 'five labels', text: [A, `${B} 01:00:04:00`], shots: AB.slice(0, 1), problems: ['2:78 error bad-event'] },
  { what: 'a line that is only a number', text: [A, '24', B], shots: AB, problems: ['2:1 error bad-event'] },
  { what: 'an unknown channel', text: [A, B.replace(' V ', ' X ')], shots: AB.slice(0, 1), problems: ['2:15 error bad-event'] },
  { what: 'an unknown kind of edit', text: [A, B.replace(' C ', ' Q ')], shots: AB.slice(0, 1), problems: ['2:21 error bad-event'] },
  { what: 'no reel', text: [A, B.replace('CLOSE', '     ')], shots: [AB[0] ?? '', '- 50>100 900050>900100'], problems: ['2:1 warning bad-event'] },
  { what: 'a reel of more than eight characters', text: [A.replace('WIDE', 'STAGEWIDELEFT_0012')], shots: ['STAGEWIDELEFT_0012 0>50 900000>900050'] },
  { what: 'a reel of two words', text: [A.replace('WIDE   ', 'CAM 1 A')], shots: ['CAM 1 A 0>50 900000>900050'] },
  { what: 'sound channels that there are none of', text: [A, B.replace(' V ', ' A9 '), '003  DESK     A0    C        00:00:00:00 00:00:02:00 01:00:02:00 01:00:04:00', '004  DESK     VA12  C        00:00:00:00 00:00:02:00 01:00:02:00 01:00:04:00'], shots: AB.slice(0, 1), problems: ['2:15 error bad-event', '3:15 error bad-event', '4:15 error bad-event'] },
  { what: 'sound channels that there are none of, in an AUD line', text: [A.replace('V ', 'B '), 'AUD  3  9'], shots: AB.slice(0, 1), sound: ['13 WIDE 0>50 with picture'], problems: ['2:1 error bad-event'] },
  { what: 'a reel that looks like a channel', text: [A.replace('WIDE', 'AA/V')], shots: ['AA/V 0>50 900000>900050'] },
  { what: 'numbers that are missing, repeated and out of order', text: [A.replace('001', '007'), B.replace('002', '007'), '003  WIDE V C 00:00:00:00 00:00:02:00 01:00:04:00 01:00:06:00'], shots: [...AB, 'WIDE 100>150 0>50'], problems: ['1:1 warning event-number', '2:1 warning event-number', '3:1 warning event-number'] },
  { what: 'a hole', text: [A, B.replace('01:00:02:00 01:00:04:00', '01:00:03:00 01:00:05:00')], shots: [AB[0] ?? '', 'BL 50>75 0>25', 'CLOSE 75>125 900050>900100'], problems: ['2:54 warning hole'] },
  { what: 'an overlap', text: [A, B.replace('01:00:02:00 01:00:04:00', '01:00:01:00 01:00:03:00')], shots: ['WIDE 0>25 900000>900025', 'CLOSE 25>75 900050>900100'], problems: ['2:54 error overlap'] },
  { what: 'a shot that covers the one before', text: [A, B, A.replace('001', '003').replace('01:00:00:00 01:00:02:00', '01:00:02:00 01:00:04:00')], shots: [AB[0] ?? '', 'WIDE 50>100 900000>900050'], problems: ['3:54 error overlap'] },
  { what: 'lengths that differ', text: [A, B.replace('10:00:04:00', '10:00:03:00')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900075'], problems: ['2:30 error length-differs'] },
  { what: 'lengths that differ, with a speed line', text: [A, B.replace('10:00:04:00', '10:00:03:00'), 'M2   CLOSE     012.5                10:00:02:00'], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900075'] },
  { what: 'a speed line with tabs and a clip\'s name', text: [B.replace('10:00:04:00', '10:00:03:00'), 'M2   Close-up 2\t\t12.5\t\t\t10:00:02:00'], shots: ['CLOSE 0>50 900050>900075'], problems: ['1:1 warning event-number'] },
  {
    what: 'half speed beside columns that repeat the record length', text: [A, B, 'M2   CLOSE     012.5                10:00:02:00'], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900075'], problems: ['2:30 warning length-differs'],
    check: (_, problems) => { expect(problems[0]?.message).toBe('event 2: 12.5 source frames a second make 25 frames, and the source side has 50, as the record side; read at that speed, up to 10:00:03:00'); },
  },
  { what: 'half speed backwards beside such columns', text: [A, 'M2   WIDE      -12.5                10:00:00:00'], shots: ['WIDE 0>50 900000>900025'], problems: ['1:30 warning bad-event', '1:30 warning length-differs'] },
  {
    what: 'a held frame beside such columns', text: [A, B, 'M2   CLOSE     000.0                10:00:02:00'], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900050'], problems: ['2:30 warning length-differs'],
    check: (_, problems) => { expect(problems[0]?.message).toContain('the source side has 50, as the record side; read as the frame 10:00:02:00, held'); },
  },
  { what: 'a held frame as it is written here', text: [A, B.replace('10:00:04:00', '10:00:02:00'), 'M2   CLOSE     000.0                10:00:02:00'], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900050'] },
  { what: 'the rate of a recording beside columns of its labels', text: [A, B, 'M2   CLOSE     050.0                10:00:02:00'], shots: AB, problems: ['2:30 note found'] },
  {
    what: 'the rate of a recording beside columns of its labels, more than once', text: [A, 'M2   WIDE      050.0                10:00:00:00', B.replace('CLOSE', 'WIDE '), 'M2   WIDE      050.0                10:00:02:00'],
    shots: [AB[0] ?? '', 'WIDE 50>100 900050>900100'], problems: ['1:30 note found'],
  },
  {
    what: 'double speed of a few frames, which is a recording\'s rate too', text: ['001  WIDE     V     C        10:00:00:20 10:00:00:24 01:00:00:00 01:00:00:02', 'M2   WIDE      050.0                10:00:00:20'],
    shots: ['WIDE 0>2 900020>900024'],
  },
  { what: 'the list\'s own rate as a speed, rounded', rate: '29.97', text: ['001 WIDE V C 10:00:00:00 10:01:00:00 01:00:00:00 01:01:00:00', 'M2 WIDE 029.9 10:00:00:00'], shots: ['WIDE 0>1800 1080000>1081800'] },
  {
    what: 'a speed that the columns contradict', text: [A, B.replace('10:00:04:00', '10:00:03:00'), 'M2   CLOSE     006.0                10:00:02:00'], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900075'], problems: ['2:30 warning length-differs'],
    check: (_, problems) => { expect(problems[0]?.message).toBe('event 2: 6 source frames a second make 12 frames, and the source side has 25; the source side counts, and the record side has 50'); },
  },
  { what: 'a speed line backwards', text: [A, 'M2   WIDE      -25.0                10:00:00:00'], shots: AB.slice(0, 1), problems: ['1:30 warning bad-event'] },
  {
    what: 'a speed line backwards beside a source side that runs so', text: [BACK, 'M2   WIDE      -25.0                10:00:02:00', B], shots: AB, problems: ['1:30 warning bad-event'],
    check: (_, problems) => { expect(problems[0]?.message).toBe('WIDE plays backwards, which a cut list cannot hold; read as forwards'); },
  },
  { what: 'double speed backwards beside such a side', text: [BACK.replace('10:00:02:00', '10:00:04:00'), '* FROM CLIP NAME: Wide', 'M2   WIDE      -50.0                10:00:04:00'], shots: ['WIDE 0>50 900000>900100'], problems: ['1:30 warning bad-event'] },
  { what: 'a mix to a clip that plays backwards', text: [A, MIX[0] ?? '', (MIX[1] ?? '').replace('10:00:02:00 10:00:04:00', '10:00:04:00 10:00:02:00'), 'M2   CLOSE     -25.0                10:00:04:00'], shots: MIXED, problems: ['3:30 warning bad-event'] },
  { what: 'a mix from a clip that plays backwards', text: [BACK, 'M2   WIDE      -25.0                10:00:02:00', (MIX[0] ?? '').replaceAll('10:00:02:00', '10:00:00:00'), MIX[1] ?? ''], shots: MIXED, problems: ['1:30 warning bad-event'] },
  { what: 'a source out-point before its in-point', text: [BACK, B], shots: ['WIDE 0>50 900050>900100', AB[1] ?? ''], problems: ['1:42 error bad-event'] },
  { what: 'a source out-point before its in-point, at a speed forwards', text: [BACK, 'M2   WIDE      025.0                10:00:02:00'], shots: ['WIDE 0>50 900050>900100'], problems: ['1:42 error bad-event'] },
  { what: 'an out-point before its in-point', text: [A, B.replace('01:00:04:00', '01:00:01:00')], shots: AB, problems: ['2:66 error bad-event'] },
  { what: 'events out of order', text: [B.replace('002', '001'), A.replace('001', '002')], shots: AB },
  { what: 'an event without length', text: [A, A.replace('001', '002').replace('10:00:00:00 10:00:02:00 01:00:00:00', '10:00:02:00 10:00:02:00 01:00:02:00'), B.replace('002', '003')], shots: AB, problems: ['2:54 warning bad-event'] },
  { what: 'an event without length on the record side', text: [A, B.replace('01:00:04:00', '01:00:02:00')], shots: AB.slice(0, 1), problems: ['2:54 error bad-event'] },
  { what: 'a mix on one line', text: [A, B.replace('C       ', 'D    012')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900100 dissolve 12'] },
  { what: 'a mix whose first line has a length', text: [A.replace('001', '002'), B.replace('C       ', 'D    012')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900100 dissolve 12'], problems: ['1:1 warning event-number'] },
  { what: 'a mix without its length', text: [A, B.replace('     C  ', '     D  ')], shots: AB, problems: ['2:30 error bad-event'] },
  { what: 'a mix longer than its event', text: [A, B.replace('C       ', 'D    060')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900100 dissolve 50'], problems: ['2:54 warning transition-cut-short'] },
  { what: 'a mix from something that is not on', text: [A, '002  OVER     V     C        00:00:00:00 00:00:00:00 01:00:02:00 01:00:02:00', B.replace('C       ', 'D    012')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900100 dissolve 12'], problems: ['3:54 warning bad-event'] },
  {
    what: 'a mix from another point than that at which the event before ends', text: [A, (MIX[0] ?? '').replaceAll('10:00:02:00', '10:00:07:00'), MIX[1] ?? ''], shots: MIXED, problems: ['3:54 warning bad-event'],
    check: (_, problems) => { expect(problems[0]?.message).toBe('mixes from WIDE at 10:00:07:00, and the event before it ends at 10:00:02:00; that counts'); },
  },
  { what: 'a mix from one frame beside the end of the event before', text: [A, (MIX[0] ?? '').replaceAll('10:00:02:00', '10:00:02:01'), MIX[1] ?? ''], shots: MIXED, problems: ['3:54 warning bad-event'] },
  { what: 'a mix that repeats the in-point of the event before', text: [A, (MIX[0] ?? '').replaceAll('10:00:02:00', '10:00:00:00'), MIX[1] ?? ''], shots: MIXED },
  { what: 'a mix from label zero', text: [A, (MIX[0] ?? '').replaceAll('10:00:02:00', '00:00:00:00'), MIX[1] ?? ''], shots: MIXED },
  { what: 'a mix from the midnight at which the event before ends', text: [A.replace('10:00:00:00 10:00:02:00', '23:59:59:00 00:00:01:00'), (MIX[0] ?? '').replaceAll('10:00:02:00', '00:00:01:00'), MIX[1] ?? ''], shots: ['WIDE 0>50 2159975>2160025', MIXED[1] ?? ''] },
  { what: 'a mix from a frame beside the end of an event that changes speed', text: [A.replace('10:00:02:00', '10:00:01:00'), 'M2   WIDE      012.5                10:00:00:00', (MIX[0] ?? '').replaceAll('10:00:02:00', '10:00:01:01'), MIX[1] ?? ''], shots: ['WIDE 0>50 900000>900025', MIXED[1] ?? ''] },
  { what: 'a mix from the point in the columns of an event whose speed says another', text: [A, 'M2   WIDE      012.5                10:00:00:00', ...MIX], shots: ['WIDE 0>50 900000>900025', MIXED[1] ?? ''], problems: ['1:30 warning length-differs'] },
  { what: 'a first event that mixes from somewhere', text: ['001  OVER     V     C        00:00:00:00 00:00:00:00 01:00:02:00 01:00:02:00', B.replace('002', '001').replace('C       ', 'D    012')], shots: ['CLOSE 0>50 900050>900100 dissolve 12'], problems: ['2:54 warning bad-event'] },
  { what: 'wipes with codes of one digit and none', text: [A, B.replace('C       ', 'W7   012'), A.replace('001', '003').replace('C       ', 'W    012').replace('01:00:00:00 01:00:02:00', '01:00:04:00 01:00:06:00')], shots: [AB[0] ?? '', 'CLOSE 50>100 900050>900100 wipe 12 7', 'WIDE 100>150 900000>900050 wipe 12 0'] },
  { what: 'a key', text: [A, B.replace('C    ', 'K B  '), B.replace('C       ', 'K    012')], shots: AB, problems: ['3:1 warning bad-event'] },
  { what: 'AUD lines, one without an event', text: ['AUD  3  4', A.replace(' V  ', 'NONE'), 'AUD  3  4', B.replace('V ', 'B '), 'AUD     4'], shots: ['BL 0>50 0>50', 'CLOSE 50>100 900050>900100'], sound: ['34 WIDE 0>50', '14 CLOSE 50>100 with picture'], problems: ['4:54 warning hole'] },
  { what: 'channels written out', text: [A.replace('V   ', 'VA1A2').replace('A2  ', 'A2 '), B.replace('V ', 'A3')], shots: [AB[0] ?? '', 'BL 50>100 0>50'], sound: ['12 WIDE 0>50 with picture', '3 CLOSE 50>100'], problems: ['2:66 warning hole'] },
  { what: 'sound that overlaps', text: [A, A.replace('001', '002').replace('V ', 'AA'), '003 DESK A C 00:00:00:00 00:00:01:00 01:00:01:00 01:00:02:00'], shots: AB.slice(0, 1), sound: ['12 WIDE 0>25', '1 DESK 25>50'], problems: ['3:38 error overlap'] },
  { what: 'sound that mixes alone', text: [A, A.replace('001', '002').replace('V     C       ', 'AA    D    010')], shots: AB.slice(0, 1), sound: ['12 WIDE 0>50'], problems: ['2:54 warning left-out'] },
  {
    what: 'comments of all kinds', text: ['* before all', A, '*FROM CLIP NAME:  Stage wide', '>>> SOURCE WIDE 1234', '* ', 'EFFECTS NAME IS SLIDE', '* MARKER: 01:00:01:00', '*LOC: 01:00:01:10 red     Lid off', B, '* from clip name: Close-up', '* SOURCE FILE: media/close 2.mov'], shots: AB,
    check: ({ shots, markers, sources }) => {
      expect(shots[0]?.comments).toEqual(['before all', '>>> SOURCE WIDE 1234', '', 'EFFECTS NAME IS SLIDE']);
      expect(markers).toEqual([{ at: 25, note: '' }, { at: 35, note: 'Lid off', color: 'RED' }]);
      expect(sources.map(({ name, files }) => [name, files.map(({ path }) => path)])).toEqual([['Stage wide', []], ['Close-up', ['media/close 2.mov']]]);
    },
  },
  {
    what: 'a mix whose outgoing clip has a file, too', text: [A, '* SOURCE FILE: media/wide.mov', ...MIX, '* FROM CLIP NAME: Stage wide', '* SOURCE FILE: media/wide.mov', '* TO CLIP NAME: Close-up', '* SOURCE FILE: media/close.mov'], shots: MIXED,
    check: (list) => { expect(filesOf(list)).toEqual(['media/wide.mov', 'media/close.mov']); expect(list.sources.map(({ name, files }) => [name, files.length])).toEqual([['WIDE', 1], ['Close-up', 1]]); },
  },
  { what: 'a mix with a file behind both names, as it is written here', text: [A, ...MIX, '* FROM CLIP NAME: Stage wide', '* TO CLIP NAME: Close-up', '* SOURCE FILE: media/close.mov'], shots: MIXED, check: (list) => { expect(filesOf(list)).toEqual([undefined, 'media/close.mov']); } },
  { what: 'a mix with a file and no names', text: [A, ...MIX, '* SOURCE FILE: media/close.mov'], shots: MIXED, check: (list) => { expect(filesOf(list)).toEqual([undefined, 'media/close.mov']); } },
  { what: 'a file between the two lines of a mix', text: [A, MIX[0] ?? '', '* SOURCE FILE: media/wide.mov', MIX[1] ?? '', '* SOURCE FILE: media/close.mov'], shots: MIXED, check: (list) => { expect(filesOf(list)).toEqual(['media/wide.mov', 'media/close.mov']); } },
  { what: 'a file of the clip that a mix comes from, and none of the one it goes to', text: [A, MIX[0] ?? '', '* SOURCE FILE: media/wide.mov', MIX[1] ?? ''], shots: MIXED, check: (list) => { expect(filesOf(list)).toEqual(['media/wide.mov', undefined]); } },
  { what: 'a mix that names another file of the clip before it', text: [A, '* SOURCE FILE: media/wide.mov', ...MIX, '* FROM CLIP NAME: Stage wide', '* SOURCE FILE: media/other.mov'], shots: MIXED, problems: ['4:54 warning bad-event'], check: (list) => { expect(filesOf(list)).toEqual(['media/wide.mov', undefined]); } },
  {
    what: 'two files for one clip', text: [A, '* SOURCE FILE: a.mov', '* SOURCE FILE: a.mov', '* SOURCE FILE: b.mov', ...MIX, '* TO CLIP NAME: Close-up', '* SOURCE FILE: c.mov', '* SOURCE FILE: d.mov'], shots: MIXED, problems: ['4:1 warning bad-event', '9:1 warning bad-event'],
    check: (list, problems) => { expect(filesOf(list)).toEqual(['a.mov', 'c.mov']); expect(problems[1]?.message).toBe('the clip that the mix goes to of event 2 has a second file, d.mov; the first counts: c.mov'); },
  },
  { what: 'a mix on one line with the files of both sides', text: [A, B.replace('C       ', 'D    012'), '* FROM CLIP NAME: Stage wide', '* SOURCE FILE: media/wide.mov', '* TO CLIP NAME: Close-up'], shots: MIXED, check: (list) => { expect(filesOf(list)).toEqual([undefined, undefined]); } },
  { what: 'no clip names', text: [A, B], shots: AB, check: ({ sources }) => { expect(sources.map(({ name }) => name)).toEqual(['WIDE', 'CLOSE']); } },
  {
    what: 'clips on AX', text: [A.replace('WIDE', 'AX  '), '* FROM CLIP NAME: one', B.replace('CLOSE', 'AX   '), '* FROM CLIP NAME: two'], shots: ['- 0>50 900000>900050', '- 50>100 900050>900100'],
    check: ({ sources }) => { expect(sources.map(({ id, name, reel }) => [id, name, reel])).toEqual([['one', 'one', undefined], ['two', 'two', undefined]]); },
  },
  {
    what: 'clips on AX whose names differ in case alone from a reel, or black', text: [A, B.replace('CLOSE', 'AX   '), '* FROM CLIP NAME: Wide', A.replace('001  WIDE', '003  AX  ').replace('01:00:00:00 01:00:02:00', '01:00:04:00 01:00:06:00'), '* FROM CLIP NAME: Black'],
    shots: [AB[0] ?? '', '- 50>100 900050>900100', '- 100>150 900000>900050'],
    check: ({ sources }) => { expect(sources.map(({ id, name }) => [id, name])).toEqual([['WIDE', 'WIDE'], ['Wide 2', 'Wide'], ['Black 2', 'Black']]); },
  },
  { what: 'markers that lie elsewhere, and one that cannot be read', text: [A, '* MARKER: 02:00:00:00 lost', '* MARKER: 01:00:00:30 odd'], shots: AB.slice(0, 1), problems: ['3:1 warning bad-time', '2:1 warning bad-event'], check: ({ shots }) => { expect(shots[0]?.comments).toEqual(['MARKER: 01:00:00:30 odd']); } },
  { what: 'black without a source side, and spelled out', text: [A, '002 BLACK V C 00:00:00:00 00:00:00:00 01:00:02:00 01:00:04:00'], shots: [AB[0] ?? '', 'BL 50>100 0>50'] },
  { what: 'comments of an event that cannot be read', text: [A, B.replace('10:00:04:00', '10:00:99:00'), '* FROM CLIP NAME: Not the wide', '* SOURCE FILE: not-wide.mov', 'M2 CLOSE 010.0 10:00:02:00'], shots: AB.slice(0, 1), problems: ['2:42 error bad-time'], check: ({ sources }) => { expect(sources.map(({ name, files }) => [name, files.length])).toEqual([['WIDE', 0]]); } },
  { what: 'no rate', rate: '', text: [...HEAD, A, B], problems: ['0:0 error bad-rate'], check: () => undefined },
  { what: 'no rate, but drop-frame below 30', rate: '', text: ['001 WIDE V C 10:00:00;00 10:00:02;00 01:00:00;00 01:00:02;00'], shots: ['WIDE 0>60 1078920>1078980'], problems: ['0:0 note found'] },
  { what: 'no rate, but drop-frame above 30', rate: '', text: ['001 WIDE V C 10:00:00;00 10:00:00;40 01:00:00;00 01:00:00;40'], shots: ['WIDE 0>40 2157840>2157880'], problems: ['0:0 note found'] },
  { what: 'no event', text: [...HEAD, '* nothing here'], problems: ['0:0 error no-events'] },
  { what: 'no event that can be read', text: [...HEAD, '001 what is this'], problems: ['3:13 error bad-event', '0:0 error no-events'] },
  { what: 'one line of a million characters', text: [A, `002 ${'x'.repeat(1_000_000)}`], shots: AB.slice(0, 1), problems: ['2:1 error bad-event'] },
];

const shotText = (list: CutList, { source, in: from, out, sourceIn, sourceOut, transition }: Shot): string => {
  const reel = source === BLACK ? 'BL' : (list.sources.find(({ id }) => id === source)?.reel ?? '-');
  const mix = transition === undefined ? '' : ` ${transition.kind} ${String(transition.frames)}${transition.wipe === undefined ? '' : ` ${String(transition.wipe)}`}`;
  return `${reel} ${String(from)}>${String(out)} ${String(sourceIn)}>${String(sourceOut)}${mix}`;
};

const soundText = (list: CutList, { source, in: from, out, tracks, withPicture }: AudioPiece): string =>
  `${tracks.join('')} ${list.sources.find(({ id }) => id === source)?.reel ?? '-'} ${String(from)}>${String(out)}${withPicture ? ' with picture' : ''}`;

function read({ text, rate = '25' }: Case): { list: CutList | undefined; problems: Problem[] } {
  const problems: Problem[] = [];
  const spec = rate === '' ? undefined : parseRate(rate);
  if (isFault(spec)) throw new Error(spec.message);
  const list = readEdl(typeof text === 'string' ? text : text.join('\r\n'), { file: 'show.edl', ...(spec === undefined ? {} : { rate: spec }) }, (problem) => problems.push(problem));
  return { list, problems };
}

describe('EDLs that are mangled', () => {
  it('are more than forty', () => {
    expect(CASES.length).toBeGreaterThan(40);
  });

  it.each(CASES)('$what', (given) => {
    const { list, problems } = read(given);
    expect(problems.map(({ place, severity, code }) => `${String(place?.line ?? 0)}:${String(place?.column ?? 0)} ${severity} ${code}`)).toEqual(given.problems ?? []);
    expect(list?.shots.map((shot) => shotText(list, shot))).toEqual(given.shots);
    if (list === undefined) return;
    expect(list.audio.map((piece) => soundText(list, piece))).toEqual(given.sound ?? []);
    expect(listFaults(list)).toEqual([]);
    given.check?.(list, problems);
  });

  it.each(CASES.filter(({ problems = [] }) => problems.some((line) => line.includes('error'))))('$what: the message says what was found', (given) => {
    for (const { message, place } of read(given).problems) {
      expect(place?.file).toBe('show.edl');
      expect(message.length).toBeGreaterThan(20);
      expect(message.length).toBeLessThan(300);
    }
  });
});
