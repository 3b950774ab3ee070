import { fileURLToPath, pathToFileURL } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileUrl, pathOfUrl, relativeUrl } from '../src/file-url.js';

describe('fileUrl', () => {
  // The forms of RFC 8089 appendix B, E.2 and E.3.1 (written down from memory), from the paths they stand for.
  it.each([
    ['/path/to/file', 'file:///path/to/file'],
    ['c:\\path\\to\\file', 'file:///c:/path/to/file'],
    ['c:/path/to/file', 'file:///c:/path/to/file'],
    ['\\\\host.example.com\\path\\to\\file', 'file://host.example.com/path/to/file'],
    ['\\\\host.example.com\\Share\\path\\to\\file.txt', 'file://host.example.com/Share/path/to/file.txt'],
  ])('%s → %s (RFC 8089)', (path, url) => {
    expect(fileUrl(path, '/')).toBe(url);
  });

  it.each([
    ['media/wide 1.mov', '/srv/Harbour Kitchen', 'file:///srv/Harbour%20Kitchen/media/wide%201.mov'],
    ['media/take #2 100%?.mov', '/srv', 'file:///srv/media/take%20%232%20100%25%3F.mov'],
    ['media/Küche.mov', '/srv', 'file:///srv/media/K%C3%BCche.mov'],
    ['../raw/./a.mov', '/srv/show', 'file:///srv/raw/a.mov'],
    ['media\\a.mov', 'D:\\Shows\\14', 'file:///D:/Shows/14/media/a.mov'],
    ['media/a.mov', 'D:\\Shows\\14', 'file:///D:/Shows/14/media/a.mov'],
    ['\\raw\\a.mov', 'D:\\Shows\\14', 'file:///D:/raw/a.mov'],
    ['media\\a.mov', '\\\\store\\shows\\14', 'file://store/shows/14/media/a.mov'],
    ['//store/shows/14/a.mov', '/srv', 'file://store/shows/14/a.mov'],
    ['\\\\?\\C:\\long\\a.mov', '/srv', 'file:///C:/long/a.mov'],
    ['\\\\?\\UNC\\store\\shows\\a.mov', '/srv', 'file://store/shows/a.mov'],
    ['a\\b.mov', '/srv', 'file:///srv/a%5Cb.mov'],
    ['/C:/a.mov', '/srv', 'file:///C%3A/a.mov'],
    ['file:///already/here.mov', '/srv', 'file:///already/here.mov'],
    ['https://store.example/a.mov', '/srv', 'https://store.example/a.mov'],
    ['cam:1.mov', '/srv', 'file:///srv/cam:1.mov'],
    ['a&b=c+d@e,f;g!(h)\'*~.mov', '/srv', "file:///srv/a&b=c+d@e,f;g!(h)'*~.mov"],
    ['half \ud83c.mov', '/srv', 'file:///srv/half%20%EF%BF%BD.mov'],
  ])('%s below %s', (path, base, url) => {
    expect(fileUrl(path, base)).toBe(url);
  });

  // The outside check: Node's own pathToFileURL and fileURLToPath.
  it('means the same as Node for any POSIX path', () => {
    fc.assert(
      fc.property(fc.array(posixName, { minLength: 1, maxLength: 5 }), (names) => {
        const path = `/${names.join('/')}`;
        const url = fileUrl(path, '/');
        expect(new URL(url).href).toBe(url);
        expect(fileURLToPath(url, { windows: false })).toBe(path);
        // Node 20's pathToFileURL loses control characters at the end: pathToFileURL('/\u0001').href is file:///
        if (!/\p{Cc}/u.test(path)) expect(fileURLToPath(pathToFileURL(path, { windows: false }), { windows: false })).toBe(path);
        expect(pathOfUrl(url)).toBe(path);
      }),
      { numRuns: 1000 },
    );
  });

  it('means the same as Node for any path on a Windows drive or share', () => {
    fc.assert(
      fc.property(fc.constantFrom('C:', 'd:', '\\\\store\\shows', '\\\\192.0.2.7\\media'), fc.array(windowsName, { minLength: 1, maxLength: 5 }), (root, names) => {
        const path = [root, ...names].join('\\');
        const url = fileUrl(path, '/');
        expect(fileURLToPath(url, { windows: true })).toBe(path);
        expect(fileURLToPath(pathToFileURL(path, { windows: true }), { windows: true })).toBe(path);
        expect(pathOfUrl(url)).toBe(path);
      }),
      { numRuns: 1000 },
    );
  });
});

/** Names as file systems take them: any whole Unicode but the separators, never `.` or `..`. */
const posixName = fc
  .string({ unit: 'binary', minLength: 1, maxLength: 12 })
  .map((text) => text.replace(/[/\0]/g, '_'))
  .filter((name) => name !== '.' && name !== '..');

const windowsName = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 12 })
  .map((text) => `${text.replace(/[<>:"/\\|?*\p{Cc}]/gu, '_').replace(/[. ]+$/, '')}x`);

describe('pathOfUrl', () => {
  // RFC 8089 appendix B, E.2 (drives, also with `|`) and E.3 (shares, also with four and five slashes), from memory.
  it.each([
    ['file:///path/to/file', '/path/to/file'],
    ['file:/path/to/file', '/path/to/file'],
    ['file://localhost/path/to/file', '/path/to/file'],
    ['file://host.example.com/path/to/file', '\\\\host.example.com\\path\\to\\file'],
    ['file:c:/path/to/file', 'c:\\path\\to\\file'],
    ['file:/c:/path/to/file', 'c:\\path\\to\\file'],
    ['file:///c:/path/to/file', 'c:\\path\\to\\file'],
    ['file:///c|/path/to/file', 'c:\\path\\to\\file'],
    ['file:/c|/path/to/file', 'c:\\path\\to\\file'],
    ['file:c|/path/to/file', 'c:\\path\\to\\file'],
    ['file:////host.example.com/path/to/file', '\\\\host.example.com\\path\\to\\file'],
    ['file://///host.example.com/path/to/file', '\\\\host.example.com\\path\\to\\file'],
    ['FILE:///c:/path', 'c:\\path'],
    ['file:///c:', 'c:\\'],
  ])('%s → %s (RFC 8089)', (url, path) => {
    expect(pathOfUrl(url)).toBe(path);
  });

  it.each([
    ['media/wide%201.mov', 'media/wide 1.mov'],
    ['./a:b.mov', './a:b.mov'],
    ['/srv/100% sure.mov', '/srv/100% sure.mov'],
    ['C:\\media\\a.mov', 'C:\\media\\a.mov'],
    ['file:///srv/a%2Fb.mov', '/srv/a%2Fb.mov'],
    ['file:///srv/a%00.mov', '/srv/a%00.mov'],
    ['file:///srv/100%.mov', '/srv/100%.mov'],
    ['file:///srv/bad%FFbytes.mov', '/srv/bad%FFbytes.mov'],
    ['file:///srv/take#2.mov', '/srv/take#2.mov'],
    ['https://store.example/a%20b.mov', 'https://store.example/a%20b.mov'],
    ['', ''],
  ])('%s → %s', (url, path) => {
    expect(pathOfUrl(url)).toBe(path);
  });
});

describe('relativeUrl', () => {
  it.each([
    ['media/wide 1.mov', '/srv/show', undefined, 'media/wide%201.mov'],
    ['media/a.mov', '/srv/show', '/srv/show/out', '../media/a.mov'],
    ['/srv/show/media/a.mov', '/srv/show', undefined, 'media/a.mov'],
    ['/mnt/card/a.mov', '/srv/show', undefined, '../../mnt/card/a.mov'],
    ['file:///srv/show/media/a%20b.mov', '/srv/show', undefined, 'media/a%20b.mov'],
    ['1:2/a.mov', '/srv/show', undefined, './1:2/a.mov'],
    ['E:\\card\\a.mov', 'D:\\Shows', undefined, 'file:///E:/card/a.mov'],
    ['D:\\shows\\media\\a.mov', 'D:\\Shows', undefined, 'media/a.mov'],
    ['\\\\store\\a\\x.mov', '\\\\store\\b\\show', undefined, 'file://store/a/x.mov'],
    ['\\\\store\\a\\x.mov', '\\\\STORE\\A\\show', undefined, '../x.mov'],
    ['https://store.example/a.mov', '/srv', undefined, 'https://store.example/a.mov'],
  ])('%s below %s from %s', (path, base, from, url) => {
    expect(relativeUrl(path, base, from)).toBe(url);
  });

  it('leads back to the path, seen from the folder (Node resolves)', () => {
    fc.assert(
      fc.property(fc.array(posixName, { minLength: 1, maxLength: 4 }), fc.array(posixName, { maxLength: 4 }), (names, folder) => {
        const path = `/${names.join('/')}`;
        const from = `/${folder.join('/')}`;
        const seen = new URL(relativeUrl(path, '/', from), pathToFileURL(from === '/' ? '/' : `${from}/`, { windows: false }));
        expect(fileURLToPath(seen, { windows: false })).toBe(path);
      }),
      { numRuns: 1000 },
    );
  });
});
