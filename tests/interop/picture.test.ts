/** Pictures in a real browser (Debian's Chromium): structure, labels, contrast, keyboard, no console errors. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawPicture } from '../../src/picture/picture.js';
import type { PictureInput, PictureNote } from '../../src/picture/scene.js';
import { ProblemList } from '../../src/problems.js';
import { cli } from '../support/cli.js';
import { steadyList } from '../support/steady.js';
import { openBrowser } from './chromium.js';
import { WORK, workFolder } from './support.js';

const WIDTHS = [1280, 480];
const LOG = 'time,action,source\n00:00:00:00,start,\n00:00:00:00,cut,1\n00:00:09:00,cut,2\n00:00:12:00,cut,1\n00:00:15:00,stop,\n';
const list = steadyList(600);
const notes: PictureNote[] = [
  { at: 10, code: 'short-shot', text: 'only a blink', severity: 'warning' },
  { at: 4000, code: 'hole', text: 'nothing on the record side', severity: 'error' },
];

let browser: Browser;
let folder: string;

beforeAll(async () => {
  mkdirSync(WORK, { recursive: true });
  folder = workFolder('picture');
  browser = await openBrowser();
});

afterAll(async () => {
  await browser.close();
});

function drawn(inputs: readonly PictureInput[], as: 'svg' | 'html', name: string): string {
  const problems = new ProblemList();
  const text = drawPicture(inputs, as, problems.add);
  if (text === undefined) throw new Error('no picture');
  const path = join(folder, `${name}.${as}`);
  writeFileSync(path, text);
  return pathToFileURL(path).href;
}

/** Opens a page, and fails on anything it says on the console, any error, and any request but its own. */
async function opened(url: string, width: number, use: (page: Page) => Promise<void>): Promise<void> {
  const page = await browser.newPage({ viewport: { width, height: 900 }, javaScriptEnabled: true });
  const said: string[] = [];
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(error.message));
  page.on('request', (request) => {
    if (request.url() !== url && !request.url().startsWith('data:')) said.push(`asked for ${request.url()}`);
  });
  await page.goto(url);
  await use(page);
  await page.screenshot({ path: join(folder, `${url.split('/').at(-1) ?? 'page'}-${String(width)}.png`) });
  expect(said).toEqual([]);
  await page.close();
}

describe('a page', () => {
  it.each(WIDTHS)('has its parts, and nothing runs out of it, at %i pixels', async (width) => {
    await opened(drawn([{ list, notes }], 'html', 'page'), width, async (page) => {
      expect(await page.title()).toBe('Harbour Kitchen 14');
      expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Harbour Kitchen 14');
      expect(await page.locator('table').filter({ hasText: 'Shots' }).last().locator('tbody tr').count()).toBe(600);
      expect(await page.getByRole('columnheader', { name: 'Comes on by' }).count()).toBe(1);
      const sides = await page.evaluate('[document.documentElement.scrollWidth, innerWidth]');
      const [scroll, inner] = sides as [number, number];
      expect(scroll).toBeLessThanOrEqual(inner);
    });
  });

  it.each([[1280, 600], [480, 600], [1280, 157], [1280, 40], [1280, 3]])('keeps its labels apart at %i pixels with %i shots', async (width, shots) => {
    await opened(drawn([{ list: steadyList(shots), notes }], 'html', 'labels'), width, async (page) => {
      // Boxes as the browser measures them; two labels of one strip must not share more than a pixel.
      const clashes = await page.evaluate(`(() => {
        const clashes = [];
        for (const svg of document.querySelectorAll('.strip svg')) {
          const boxes = [...svg.querySelectorAll('.axis text, .markers text, .notes text, .takes text, text.lane, .shots text')].map((text) => [text.getBoundingClientRect(), text.textContent]);
          boxes.sort((a, b) => a[0].left - b[0].left);
          for (let i = 0; i < boxes.length; i += 1) for (let j = i + 1; j < boxes.length && boxes[j][0].left < boxes[i][0].right - 1; j += 1) {
            const [a, b] = [boxes[i][0], boxes[j][0]];
            if (Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 2) clashes.push(boxes[i][1] + ' / ' + boxes[j][1]);
          }
        }
        return clashes;
      })()`);
      expect(clashes).toEqual([]);
    });
  });

  it('keeps the names of takes apart from the rest', async () => {
    const list = steadyList(40);
    const second = list.shots.findIndex((shot) => shot.in > list.frames / 2);
    const at = list.shots[second]?.in ?? 0;
    const takes = [{ in: 0, out: at, logIn: 0 }, { in: at, out: list.frames, logIn: at }];
    await opened(drawn([{ list: { ...list, takes }, notes }], 'html', 'takes'), 1280, async (page) => {
      expect(await page.locator('.takes text').allTextContents()).toEqual(['Take 1', 'Take 2']);
      const clashes = await page.evaluate(`(() => {
        const box = (node) => node.getBoundingClientRect();
        return [...document.querySelectorAll('.takes text')].flatMap((take) => [...document.querySelectorAll('.strip text')].filter((text) => text !== take
          && Math.min(box(text).right, box(take).right) - Math.max(box(text).left, box(take).left) > 1 && Math.min(box(text).bottom, box(take).bottom) - Math.max(box(text).top, box(take).top) > 2).map((text) => text.textContent));
      })()`);
      expect(clashes).toEqual([]);
    });
  });

  it.each([718, 680])('is whole on paper, %i pixels wide (A4 with margins of 1 cm or 1.5 cm)', async (width) => {
    const name = 'Studio_B_Camera_03_wide_left_balcony_2024';
    const steady = steadyList(40);
    const long = { ...steady, sources: steady.sources.map((source, index) => (index === 0 ? { ...source, name } : source)), markers: [{ at: 100, note: `${name} ${name} `.repeat(3) }] };
    const said: PictureNote[] = [...notes, { at: 200, code: 'black-until-first-switch', text: name.repeat(4), severity: 'warning' }];
    for (const [kind, page] of [['plain', { list: steady, notes: [] }], ['long', { list: long, notes: said }]] as const) {
      await opened(drawn([page], 'html', `paper-${kind}`), width, async (paper) => {
        await paper.emulateMedia({ media: 'print' });
        const found = await paper.evaluate(`(() => {
          const right = document.documentElement.clientWidth;
          const out = [...document.querySelectorAll('th, td, p, svg')].filter((node) => node.getBoundingClientRect().right > right + 0.5 || node.scrollWidth > node.clientWidth + 1).map((node) => node.textContent.slice(0, 40));
          // Nothing but long words is broken: labels stay on one line, and names have room for some letters.
          const lines = (cell) => { const range = document.createRange(); range.selectNodeContents(cell); return range.getClientRects().length; };
          const divided = [...document.querySelectorAll('tr[id]')].flatMap((row) => [...row.cells].slice(2, 5).filter((cell) => lines(cell) > 1).map((cell) => cell.textContent));
          const narrow = [...document.querySelectorAll('tr[id] td:nth-child(2)')].filter((cell) => cell.clientWidth < 60).map((cell) => cell.textContent);
          return { out, divided, narrow };
        })()`);
        expect(found).toEqual({ out: [], divided: [], narrow: [] });
      });
    }
  });

  it('has text that stands out from what lies behind it: 4.5:1 (WCAG 2.2, 1.4.3)', async () => {
    await opened(drawn([{ list, notes }], 'html', 'contrast'), 1280, async (page) => {
      const worst = await page.evaluate(`(() => {
        const light = (rgb) => { const [r, g, b] = rgb.match(/[\\d.]+/g).slice(0, 3).map((v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
        const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
        let worst = 21;
        for (const text of document.querySelectorAll('.shots text')) {
          const bar = text.parentElement.querySelector('rect');
          worst = Math.min(worst, ratio(getComputedStyle(text).fill, getComputedStyle(bar).fill));
        }
        for (const text of document.querySelectorAll('svg text')) {
          if (!text.closest('.shots')) worst = Math.min(worst, ratio(getComputedStyle(text).fill, text.closest('.sound') ? 'rgb(228,228,228)' : 'rgb(255,255,255)'));
        }
        for (const node of document.querySelectorAll('p, h1, h2, th, td, caption')) worst = Math.min(worst, ratio(getComputedStyle(node).color, 'rgb(255,255,255)'));
        return worst;
      })()`);
      expect(worst as number).toBeGreaterThanOrEqual(4.5);
    });
  });

  it('can be read in forced colours: a drawing keeps its own, on paper (W3C CSS Color Adjustment 1, 3)', async () => {
    const context = await browser.newContext({ forcedColors: 'active', colorScheme: 'dark' });
    const page = await context.newPage();
    await page.goto(drawn([{ list: steadyList(12), notes }], 'html', 'forced'));
    expect(await page.evaluate('matchMedia("(forced-colors: active)").matches')).toBe(true);
    const pairs = await page.evaluate(`[...document.querySelectorAll('svg text')].filter((text) => !text.closest('.shots, .sound')).map((text) => getComputedStyle(text).fill + ' on ' + getComputedStyle(text.closest('svg')).backgroundColor)`);
    expect([...new Set(pairs as string[])].sort()).toEqual(['rgb(17, 17, 17) on rgb(255, 255, 255)', 'rgb(89, 89, 89) on rgb(255, 255, 255)']);
    // What is painted, not only what is computed: the corner of a drawing.
    const shot = await page.locator('.strip svg').first().screenshot();
    const corner = await page.evaluate(`(async () => { const image = new Image(); image.src = 'data:image/png;base64,BASE64'; await image.decode(); const canvas = document.createElement('canvas'); canvas.width = 2; canvas.height = 2; const context = canvas.getContext('2d'); context.drawImage(image, 0, 0); return [...context.getImageData(1, 1, 1, 1).data]; })()`.replace('BASE64', shot.toString('base64')));
    expect(corner).toEqual([255, 255, 255, 255]);
    await context.close();
  });

  it('can be used with the keyboard alone: the first step leads to the tables, a bar leads to its row', async () => {
    await opened(drawn([{ list: steadyList(12), notes: [] }], 'html', 'keys'), 1280, async (page) => {
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.textContent')).toBe('To the table of shots');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.getAttribute("href")')).toBe('#a1');
      const ring = await page.evaluate('getComputedStyle(document.activeElement).outlineStyle');
      expect(ring).toBe('solid');
      await page.keyboard.press('Enter');
      expect(await page.evaluate('document.querySelector(":target").firstElementChild.textContent')).toBe('1');
    });
  });

  it('says the same without script', async () => {
    const url = drawn([{ list: steadyList(12), notes }], 'html', 'plain');
    const texts: string[] = [];
    for (const javaScriptEnabled of [true, false]) {
      const context = await browser.newContext({ javaScriptEnabled });
      const page = await context.newPage();
      await page.goto(url);
      // What is seen, and what is there for a pointer or a reader.
      texts.push([await page.locator('body').innerText(), ...await page.locator('svg title').allTextContents()].join('\n'));
      await context.close();
    }
    const [withScript = '', without] = texts;
    expect(without).toBe(withScript);
    for (const text of ['Harbour Kitchen 14', 'only a blink', 'Comes on by', 'Shot 12, ']) expect(withScript).toContain(text);
  });

  it('draws two lists with their changes', async () => {
    const logs = [LOG, LOG.replace('00:00:09:00,cut,2', '00:00:08:05,cut,2')];
    logs.forEach((log, index) => { writeFileSync(join(folder, `version ${String(index)}.csv`), log); });
    const target = join(folder, 'two.html');
    expect((await cli(['picture', ...logs.map((_, index) => join(folder, `version ${String(index)}.csv`)), '-o', target, '--rate', '25'])).status).toBe(0);
    await opened(pathToFileURL(target).href, 1280, async (page) => {
      expect(await page.locator('table tbody tr[id^="b"]').count()).toBe(3);
      // The cut lies twenty frames earlier, and is drawn where it is now: at 8 s and 5 frames of 15 s.
      const dots = page.locator('.notes title', { hasText: 'change: ' });
      expect(await dots.count()).toBe(1);
      expect(await dots.first().textContent()).toMatch(/20 frames earlier/);
      const places = await page.evaluate(`(() => { const at = document.querySelector('.notes circle').getBoundingClientRect(); const bar = document.querySelector('a[href="#b2"] rect').getBoundingClientRect(); return [at.left + at.width / 2, bar.left]; })()`);
      const [dot, bar] = places as [number, number];
      expect(Math.abs(dot - bar)).toBeLessThan(1.5);
      expect(await page.locator('caption').filter({ hasText: 'Findings and changes of list B' }).count()).toBe(1);
    });
  });
});

describe('a sheet', () => {
  it.each(WIDTHS)('opens by itself at %i pixels', async (width) => {
    await opened(drawn([{ list, notes }], 'svg', 'sheet'), width, async (page) => {
      expect(await page.evaluate('document.documentElement.tagName')).toBe('svg');
      expect(await page.locator('[role=row][id]').count()).toBe(600);
      const clip = await page.evaluate(`(() => { const sheet = document.documentElement.getBoundingClientRect(); return [...document.querySelectorAll('text')].filter((text) => text.getBoundingClientRect().right > sheet.right).map((text) => text.textContent); })()`);
      expect(clip).toEqual([]);
    });
  });
});
