import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { XMLParser } from 'fast-xml-parser';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CutList } from '../../src/cutlist/model.js';
import { chaptersOf } from '../../src/formats/chapters/chapters.js';
import type { ChapterForm } from '../../src/formats/chapters/forms.js';
import { writeChapters } from '../../src/formats/chapters/write.js';
import { countName } from '../../src/timecode/rate.js';
import { arbitraryList, COUNTS } from '../support/lists.js';
import { openBrowser } from './chromium.js';
import { run, workFolder, writeChunks } from './support.js';

const SEED = Number(process.env['LINECUT_SEED'] ?? 20260);

/** Titles that every format must bring through, as a viewer sees them. */
const TITLES = [
  'The stock comes to the boil', 'Fish & chips', 'a < b > c', '&amp; is not &', '<b>bold</b> <v Ada>hi', '--> arrow', 'a=b; #c \\ d', '\\', '# hash', '; semicolon', '[CHAPTER]',
  'Über den Tisch', '煮汁が沸く', '🐟🍋', 'NOTE this', 'STYLE', '1', '00:00:01.000 --> 00:00:02.000', '"quoted" \'single\'', 'two\nlines\r\nmore', 'tab\there', ']]>', '<!-- x -->', '%20 {x} $y', 'שלום', 'e\u0301 and \u00a0nbsp',
];

/** Lists at every count, long enough to pass an hour of labels at 29.97, with markers wherever. */
const lists: [string, CutList][] = COUNTS.flatMap((count) =>
  fc
    .sample(fc.tuple(arbitraryList({ counts: [count], maxShots: 3 }), fc.uniqueArray(fc.integer({ min: 0, max: 240_000 }), { minLength: 3, maxLength: 30 }), fc.shuffledSubarray(TITLES, { minLength: TITLES.length, maxLength: TITLES.length })), { numRuns: 2, seed: SEED })
    .map(([list, at, titles], index): [string, CutList] => {
      const markers = [...at, ...at.slice(0, 2)].sort((a, b) => a - b).map((frame, nth) => ({ at: frame, note: titles[nth % titles.length] ?? '' }));
      return [`${countName(count)} ${String(index)}`, { ...list, frames: 240_000, title: titles[0] ?? '', markers }];
    }),
);

interface Point { readonly start: number; readonly end: number; readonly title: string }

/** Frame → units of 1/`perSecond` s, halves up, by integers only: frame × den / num of SMPTE ST 12-1 rates. */
function units(frame: number, { count: { rate } }: CutList, perSecond: bigint): number {
  const num = BigInt(frame) * BigInt(rate.den) * perSecond;
  const den = BigInt(rate.num);
  return Number((2n * num + den) / (2n * den));
}

/** White space in a title is one blank; line ends and tabs are white space. A no-break space is one, too. */
const seen = (title: string): string => title.replace(/\s+/gu, ' ').trim();

const ours = (list: CutList, perSecond: bigint): Point[] =>
  chaptersOf(list, {}, () => undefined)?.map(({ at, end, title }) => ({ start: units(at, list, perSecond), end: units(end, list, perSecond), title: seen(title) })) ?? [];

let folder: string;
beforeAll(() => {
  folder = workFolder('chapters');
  run('ffmpeg', ['-v', 'error', '-f', 'lavfi', '-i', 'color=size=64x36:rate=25:duration=1', '-c:v', 'mpeg4', join(folder, 'media.mkv')]);
});

async function write(list: CutList, as: ChapterForm, name: string): Promise<string> {
  const path = join(folder, name);
  writeChunks(path, (await writeChapters(list, { as }, () => undefined))?.chunks ?? []);
  return path;
}

interface Probed {
  readonly chapters: { readonly start_time: string; readonly end_time: string; readonly tags?: { readonly title?: string } }[];
  readonly format: { readonly tags?: Readonly<Record<string, string>> };
}

function probe(path: string): { found: Point[]; title: string | undefined } {
  const { chapters, format } = JSON.parse(run('ffprobe', ['-v', 'error', '-show_chapters', '-show_format', '-of', 'json', path])) as Probed;
  const found = chapters.map(({ start_time: start, end_time: end, tags }) => ({ start: Math.round(Number(start) * 1000), end: Math.round(Number(end) * 1000), title: (tags?.title ?? '').trimEnd() }));
  return { found, title: format.tags?.['title']?.trimEnd() };
}

/**
 * To the millisecond. ffprobe tells microseconds, and what is muxed has nanoseconds: a time half way between two
 * milliseconds may come out as either.
 */
function expectSame(found: readonly Point[], wanted: readonly Point[]): void {
  expect(found.map(({ title }) => title)).toEqual(wanted.map(({ title }) => title));
  for (const [index, { start, end }] of found.entries()) {
    expect(Math.abs(start - (wanted[index]?.start ?? 0) / 1000)).toBeLessThanOrEqual(0.501);
    expect(Math.abs(end - (wanted[index]?.end ?? 0) / 1000)).toBeLessThanOrEqual(0.501);
  }
}

describe('FFmpeg metadata, told by ffprobe (Debian, FFmpeg 5.1)', () => {
  it.each(lists)('%s', async (name, list) => {
    const meta = await write(list, 'ffmetadata', `${name}.ffmeta`);
    const wanted = ours(list, 1_000_000n);
    const read = probe(meta);
    expectSame(read.found, wanted);
    expect(read.title).toBe(seen(list.title));

    const media = join(folder, `${name}.ff.mkv`);
    run('ffmpeg', ['-v', 'error', '-i', join(folder, 'media.mkv'), '-i', meta, '-map', '0', '-map_metadata', '1', '-map_chapters', '1', '-c', 'copy', media]);
    const muxed = probe(media);
    // Exception: ffmpeg's Matroska demuxer keeps only chapters that begin after the one before. mkvextract finds them all in
    // the file that ffmpeg muxed; with two chapters at START=0 ffprobe -show_chapters tells the first alone.
    expectSame(muxed.found, wanted.filter(({ start }, index) => index === 0 || start > (wanted[index - 1]?.start ?? 0)));
    expect(muxed.title).toBe(seen(list.title));
    expect(extracted(media)).toHaveLength(wanted.length);
  });
});

describe('Matroska XML, taken by mkvmerge and given back by mkvextract (Debian mkvtoolnix)', () => {
  it.each(lists)('%s', async (name, list) => {
    const xml = await write(list, 'matroska', `${name}.xml`);
    const media = join(folder, `${name}.mkv`);
    run('mkvmerge', ['-q', '-o', media, '--chapters', xml, join(folder, 'media.mkv')]);
    expect(extracted(media)).toEqual(ours(list, 1_000_000_000n));
  });
});

/** The chapters of a Matroska file, in nanoseconds, as mkvextract tells them. */
function extracted(media: string): Point[] {
  run('mkvextract', [media, 'chapters', `${media}.xml`]);
  const parser = new XMLParser({ parseTagValue: false, trimValues: false, isArray: (tag) => tag === 'ChapterAtom' });
  const parsed = parser.parse(readFileSync(`${media}.xml`, 'utf8').replace(/^\uFEFF/, '')) as {
    Chapters: { EditionEntry: { ChapterAtom: { ChapterTimeStart: string; ChapterTimeEnd: string; ChapterDisplay: { ChapterString: string } }[] } };
  };
  return parsed.Chapters.EditionEntry.ChapterAtom.map(({ ChapterTimeStart: start, ChapterTimeEnd: end, ChapterDisplay: display }) => ({ start: nanoseconds(start), end: nanoseconds(end), title: display.ChapterString }));
}

function nanoseconds(clock: string): number {
  const [hours = '', minutes = '', seconds = ''] = clock.split(':');
  const [whole = '', part = ''] = seconds.split('.');
  return ((Number(hours) * 60 + Number(minutes)) * 60 + Number(whole)) * 1e9 + Number(part.padEnd(9, '0'));
}

/** Runs in the page: waits until the track is loaded (2) or has failed (3), then tells what a viewer is shown. */
const READ_TRACK = `(async () => {
  const element = document.querySelector('track');
  element.track.mode = 'hidden';
  while (element.readyState < 2) await new Promise((resolve) => setTimeout(resolve, 10));
  const cues = [...(element.track.cues ?? [])];
  return {
    kind: element.track.kind,
    state: element.readyState,
    cues: cues.map((cue) => ({ start: Math.round(cue.startTime * 1000), end: Math.round(cue.endTime * 1000), title: cue.getCueAsHTML().textContent })),
  };
})()`;

describe('WebVTT in a <track kind="chapters"> of Chromium (Debian)', () => {
  let server: Server;
  let browser: Browser;
  const files = new Map<string, string>();

  beforeAll(async () => {
    // Chromium loads no tracks over file: URLs.
    server = createServer((request, response) => {
      const body = files.get(request.url ?? '');
      response.writeHead(body === undefined ? 404 : 200, { 'content-type': request.url?.endsWith('.vtt') === true ? 'text/vtt; charset=utf-8' : 'text/html; charset=utf-8' });
      response.end(body);
    });
    await new Promise<void>((resolve) => {
      server.listen(0, '127.0.0.1', resolve);
    });
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
    server.close();
  });

  it.each(lists)('%s', async (name, list) => {
    const key = `/${encodeURIComponent(name)}`;
    files.set(`${key}.vtt`, readFileSync(await write(list, 'webvtt', `${name}.vtt`), 'utf8'));
    files.set(`${key}.html`, `<!doctype html><meta charset="utf-8"><video><track kind="chapters" src="${key}.vtt" default></video>`);
    const page = await browser.newPage();
    try {
      await page.goto(`http://127.0.0.1:${String((server.address() as AddressInfo).port)}${key}.html`);
      const told = (await page.evaluate(READ_TRACK)) as { kind: string; state: number; cues: Point[] };
      expect(told).toMatchObject({ kind: 'chapters', state: 2 });
      expect(told.cues).toEqual(ours(list, 1000n));
    } finally {
      await page.close();
    }
  });
});
