/** libxml2's xmllint (Debian's libxml2-utils) as the judge of well-formedness (W3C XML 1.0): our scan takes and refuses the same documents. */
import { spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scanXml } from '../../src/log/xml-scan.js';
import { spoilt } from '../support/spoilt.js';
import { workFolder } from './support.js';

const DOCUMENTS = 1500;

const NOTHING = { open: () => undefined, attribute: () => undefined, characters: () => undefined, close: () => undefined };

describe('spoilt documents', () => {
  it('are well-formed or not as xmllint says', () => {
    const folder = workFolder('xml');
    const differing: string[] = [];
    let judged = 0;
    for (const [index, document] of fc.sample(spoilt, DOCUMENTS).entries()) {
      const file = join(folder, `${String(index)}.xml`);
      writeFileSync(file, document);
      const judge = spawnSync('xmllint', ['--noout', '--nonet', file], { encoding: 'utf8' });
      if (judge.error !== undefined) throw judge.error;
      // Bindings of prefixes mean nothing here, and encodings are for decode.ts.
      if (/namespace error|encoding/i.test(judge.stderr)) continue;
      judged += 1;
      const sound = judge.status === 0;
      if (sound !== (scanXml(document, NOTHING) === undefined)) differing.push(`${sound ? 'sound' : judge.stderr}\n${document}`);
    }
    expect(differing).toEqual([]);
    expect(judged).toBeGreaterThan(DOCUMENTS / 2);
    rmSync(folder, { recursive: true });
  });
});
