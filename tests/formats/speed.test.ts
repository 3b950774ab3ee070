/** A speed that whole source frames cannot tell stays what the list says, from format to format. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cli, folderWith } from '../support/cli.js';
import { formatTimecode } from '../../src/timecode/timecode.js';
import { P25 } from '../support/small.js';

const label = (frame: number): string => formatTimecode(frame, P25);

/** An EDL of one event of `record` frames at `tenths` tenths of a source frame a second, picture or picture and sound. */
function edl(record: number, tenths: number, channels: string): string {
  const played = Math.floor((record * tenths) / 250 + 0.5);
  const points = [900_000, 900_000 + played, 90_000, 90_000 + record].map(label).join(' ');
  const speed = `${String(Math.floor(tenths / 10)).padStart(3, '0')}.${String(tenths % 10)}`;
  return `TITLE: Harbour Kitchen 14\r\nFCM: NON-DROP FRAME\r\n001  WIDE     ${channels.padEnd(4)}  C        ${points}\r\nM2   WIDE      ${speed}                10:00:00:00\r\n`;
}

const convert = async (files: Record<string, string>, name: string, to: string, ...more: string[]): Promise<string> => {
  const { status, out } = await cli(['convert', name, '--to', to, '-o', '-', '-q', ...more], { cwd: folderWith(files) });
  expect(status).toBe(0);
  return out;
};

const speedIn = (text: string): string | undefined => /^M2.*$/m.exec(text)?.[0].trimEnd();

describe('a speed between whole source frames', () => {
  it('is a time_scalar of one half, though 59 frames play 29 and a half, and the same again in the next EDL', async () => {
    const otio = await convert({ 'a.edl': edl(59, 125, 'AA/V') }, 'a.edl', 'otio', '--rate', '25');
    expect(otio.match(/"time_scalar":[^,}]*/g)).toEqual(['"time_scalar":0.5', '"time_scalar":0.5', '"time_scalar":0.5']);
    expect(await convert({ 'a.otio': otio }, 'a.otio', 'otio')).toBe(otio);
    const again = await convert({ 'a.otio': otio }, 'a.otio', 'edl');
    expect(again).toContain('10:00:00:00 10:00:01:05 01:00:00:00 01:00:02:09\r\nM2   WIDE      012.5                10:00:00:00\r\n');
  });

  it('is that of the points, where a change has left it behind', async () => {
    const to = 'do,shot,was,expect,sourceFrames\npoints,1,59,WIDE,50\n';
    expect(speedIn(await convert({ 'a.edl': edl(59, 125, 'V'), 'fix.csv': to }, 'a.edl', 'edl', '--rate', '25', '--corrections', 'fix.csv'))).toBe('M2   WIDE      021.2                10:00:00:00');
  });

  it('comes through EDL and OTIO unchanged, whatever it is', async () => {
    let between = 0;
    await fc.assert(fc.asyncProperty(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 990 }), fc.constantFrom('V', 'AA/V', 'A'), async (record, tenths, channels) => {
      const given = edl(record, tenths, channels);
      const otio = await convert({ 'a.edl': given }, 'a.edl', 'otio', '--rate', '25');
      const back = await convert({ 'a.otio': otio }, 'a.otio', 'edl');
      // At real speed there is nothing to say.
      if (Math.floor((record * tenths) / 250 + 0.5) !== record) expect(speedIn(back)).toBe(speedIn(given));
      if ((record * tenths) % 250 !== 0) between += 1;
    }), { numRuns: Number(process.env.LINECUT_RUNS ?? 60) });
    expect(between).toBeGreaterThan(0);
  });
});
