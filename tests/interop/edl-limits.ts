/** What otio-cmx3600-adapter 1.0.0 and pycmx 1.5.1 tell of an EDL, and what they cannot do, each with a few lines that show it. */

export interface Clip {
  readonly reel: string;
  readonly name: string;
  readonly source: [number, number];
  readonly record: [number, number];
  readonly speed: number[];
  readonly mix: [string, number, number] | null;
}

export interface Edit {
  readonly reel: string;
  readonly channels: boolean[];
  readonly kind: string;
  readonly wipe: number | null;
  readonly frames: number;
  readonly points: string[];
  readonly name: string | null;
  readonly file: string | null;
}

export interface Told {
  readonly adapter: Record<string, Clip[]> | { readonly error: string };
  readonly pycmx: { readonly titles: string[]; readonly formats: string[]; readonly numbers: number[][]; readonly events: Edit[][]; readonly unknown: string[] };
}

/** What a reader cannot do, with the lines that show it. */
export const LIMITS = {
  'the adapter refuses a source that crosses midnight': {
    lines: ['TITLE: x', '001  A        V     C        23:59:59:00 00:00:01:00 01:00:00:00 01:00:02:00'],
    adapter: /^\w+: .*duration/,
  },
  'the adapter refuses a record side that crosses midnight': {
    lines: ['TITLE: x', '001  A        V     C        01:00:00:00 01:00:02:00 23:59:59:00 00:00:01:00'],
    adapter: /^\w+: .*duration/,
  },
  'the adapter refuses a list that opens with a mix': {
    lines: ['TITLE: x', '001  BL       V     C        00:00:00:00 00:00:00:00 01:00:00:00 01:00:00:00', '001  A        V     D    010 01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00'],
    adapter: /Transitions can't be at the very beginning of a track/,
  },
  'the adapter has one rate for the whole list': {
    lines: ['TITLE: x', '001  A        V     C        01:00:00:00 01:00:01:30 01:00:00:00 01:00:01:13'],
    adapter: /^ValueError/,
  },
  'the adapter refuses comments before the first event': {
    lines: ['TITLE: x', '* REEL A: name=Stage wide', '001  A        V     C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00'],
    adapter: /Unknown event type/,
  },
} as const;

/** What a reader does otherwise than we would, with the lines that show it and what it makes of them. */
export const HABITS: readonly { readonly what: string; readonly lines: readonly string[]; readonly see: (told: Told) => unknown; readonly as: unknown }[] = [
  {
    what: 'the adapter keeps AUD lines as comments, and has NONE for a track',
    lines: ['TITLE: x', '001  A        NONE  C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00', 'AUD  3  4'],
    see: ({ adapter }) => Object.keys(adapter),
    as: ['NONE'],
  },
  {
    what: 'the adapter names a clip without a comment after the number of its event',
    lines: ['TITLE: x', '001  A        V     C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00'],
    see: ({ adapter }) => ('V' in adapter ? (adapter['V'] as Clip[]).map(({ name }) => name) : adapter),
    as: ['001'],
  },
  {
    what: 'the adapter takes a speed line only where the lengths differ',
    lines: ['TITLE: x', '001  A        V     C        01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00', 'M2   A         012.5                01:00:00:00'],
    see: ({ adapter }) => ('V' in adapter ? (adapter['V'] as Clip[]).map(({ speed }) => speed) : adapter),
    as: [[]],
  },
  {
    what: 'pycmx does not know speed lines',
    lines: ['TITLE: x', '001  A        V     C        01:00:00:00 01:00:01:00 01:00:00:00 01:00:02:00', 'M2   A         012.5                01:00:00:00'],
    see: ({ pycmx }) => pycmx.unknown,
    as: ['M2   A         012.5                01:00:00:00'],
  },
  {
    what: 'pycmx loses the second line of an event that nothing follows',
    lines: ['TITLE: x', '001  BL       V     C        00:00:00:00 00:00:00:00 01:00:00:00 01:00:00:00', '001  A        V     D    010 01:00:00:00 01:00:02:00 01:00:00:00 01:00:02:00'],
    see: ({ pycmx }) => pycmx.events.map((edits) => edits.map(({ reel }) => reel)),
    as: [['BL']],
  },
];
