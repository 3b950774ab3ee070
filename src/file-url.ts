/**
 * File URLs (RFC 8089, percent-encoding by RFC 3986) and the paths they stand for: POSIX paths, Windows drives and
 * network shares. A path's own look says which it is, whatever machine this runs on.
 */

/** How the paths of recordings can be written. */
export const PATH_FORMS = ['absolute', 'relative'] as const;

/** A path taken apart: where it starts, and the names below. `root` is undefined for a relative path. */
interface Parts {
  /** '/' on POSIX, 'C:' for a drive, '//server' for a share (whose name is the first of `names`). */
  readonly root: string | undefined;
  readonly windows: boolean;
  readonly names: readonly string[];
}

const SCHEME = /^(?:file:|[a-z][a-z0-9+.-]+:\/)/i;
const DRIVE = /^([a-z]):(?=[\\/]|$)/i;
const SHARE = /^(?:\\\\|\/\/)([^\\/]+)[\\/]+(?=[^\\/])/;
const LONG = /^\\\\[?.]\\(UNC\\)?/i;

/**
 * The absolute file URL of a path. `base` is the absolute folder that a relative path is below. What is a URL
 * already comes back as it is. Windows drives: `C:\x` → `file:///C:/x` (RFC 8089 appendix E.2); network shares:
 * `\\server\share\x` → `file://server/share/x` (appendix E.3.1).
 */
export function fileUrl(path: string, base: string): string {
  return isUrl(path) ? path : urlOf(absolute(path, base));
}

/**
 * A relative URL reference (RFC 3986 4.2) to a path, as seen from the folder `from` (absolute; default `base`). Where no
 * relative reference leads there (another drive or share), the absolute file URL; another scheme's URL comes back as it is.
 */
export function relativeUrl(path: string, base: string, from = base): string {
  if (isUrl(path) && !isFileUrl(path)) return path;
  const target = absolute(isFileUrl(path) ? pathOfUrl(path) : path, base);
  const folder = absolute(from, base);
  if (!sameRoot(target, folder)) return urlOf(target);
  const same = (a: string | undefined, b: string | undefined): boolean =>
    a !== undefined && b !== undefined && (target.windows ? a.toLowerCase() === b.toLowerCase() : a === b);
  let shared = 0;
  while (shared < target.names.length - 1 && same(target.names[shared], folder.names[shared])) shared += 1;
  const up = folder.names.slice(shared).map(() => '..');
  const reference = [...up, ...target.names.slice(shared).map(encode)].join('/');
  // A colon in the first name would read as a scheme (RFC 3986 4.2).
  return /^[^/]*:/.test(reference) ? `./${reference}` : reference;
}

/**
 * The path that a file URL or relative reference stands for: `/srv/a b.mov`, `C:\a.mov`, `\\server\share\a.mov`, `media/a.mov`.
 * Reads the variants of RFC 8089 too (`file:/path`, `file:c:/path`, `file:///c|/path`, `file:////server/share`,
 * `file://localhost/path`). Another scheme's URL, and text that is a path rather than a URL, come back as they are.
 */
export function pathOfUrl(url: string): string {
  if (!isFileUrl(url)) return isUrl(url) || !isReference(url) ? url : decodeNames(url, false);
  const rest = url.slice(5);
  const split = /^\/\/([^/\\]*)(.*)$/s.exec(rest);
  const host = split?.[1] ?? '';
  const path = split?.[2] ?? rest;
  const drive = /^\/*([a-z])[:|](.*)$/is.exec(host === '' || host.toLowerCase() === 'localhost' ? path : '');
  if (drive !== null && /^([/\\]|$)/.test(drive[2] ?? '')) return `${drive[1] ?? ''}:${decodeNames(drive[2] ?? '', true) || '\\'}`;
  if (host !== '' && host.toLowerCase() !== 'localhost') return `\\\\${decodeNames(host, true)}${decodeNames(path, true)}`;
  const share = /^\/{2,3}([^/]+\/.*)$/s.exec(path);
  if (share !== null) return `\\\\${decodeNames(share[1] ?? '', true)}`;
  return decodeNames(path, false);
}

/** True for anything that begins with a scheme of two letters or more and a slash, or `file:`. `C:` is a drive, `cam:1.mov` a name. */
export const isUrl = (text: string): boolean => SCHEME.test(text);

const isFileUrl = (text: string): boolean => /^file:/i.test(text);

/** Only characters that a URI may hold, and whole escapes: what is not, is a plain path that somebody wrote as it is. */
const isReference = (text: string): boolean => /^(?:[A-Za-z0-9\-._~:/?#[\]@!$&'()*+,;=]|%[0-9A-Fa-f]{2})*$/.test(text);

function absolute(path: string, base: string): Parts {
  const given = partsOf(path, false);
  if (given.root !== undefined) return given;
  const below = partsOf(base, true);
  if (!below.windows) return { ...below, names: tidy([...below.names, ...given.names]) };
  const names = path.split(/[\\/]+/).filter((name) => name !== '');
  // `\x` starts at the drive's root.
  return { ...below, names: tidy(/^[\\/]/.test(path) ? names : [...below.names, ...names]) };
}

function partsOf(given: string, isBase: boolean): Parts {
  const path = given.replace(LONG, (_, share: string | undefined) => (share === undefined ? '' : '\\\\'));
  const drive = DRIVE.exec(path);
  if (drive !== null) return { root: `${drive[1] ?? ''}:`, windows: true, names: tidy(path.slice(2).split(/[\\/]+/)) };
  const share = SHARE.exec(path);
  if (share !== null) return { root: `//${share[1] ?? ''}`, windows: true, names: tidy(path.slice(share[0].length).split(/[\\/]+/)) };
  if (path.startsWith('/') || isBase) return { root: '/', windows: false, names: tidy(path.split('/')) };
  return { root: undefined, windows: false, names: path.split('/').filter((name) => name !== '') };
}

/** Takes `.`, `..` and empty names out. */
function tidy(names: readonly string[]): string[] {
  const kept: string[] = [];
  for (const name of names) {
    if (name === '..') kept.pop();
    else if (name !== '' && name !== '.') kept.push(name);
  }
  return kept;
}

function sameRoot(a: Parts, b: Parts): boolean {
  if (a.root?.toLowerCase() !== b.root?.toLowerCase()) return false;
  return a.root?.startsWith('//') !== true || a.names[0]?.toLowerCase() === b.names[0]?.toLowerCase();
}

function urlOf({ root = '/', names }: Parts): string {
  const path = names.map(encode).join('/');
  if (root.startsWith('//')) return `file://${encode(root.slice(2))}/${path}`;
  if (root !== '/') return `file:///${root}/${path}`;
  // A POSIX folder named `C:` must not look like a drive.
  return `file:///${/^[a-z]:(?=\/|$)/i.test(path) ? path.replace(':', '%3A') : path}`;
}

/** Percent-encodes the UTF-8 bytes of all that a path segment may not hold (RFC 3986 3.3: pchar). */
function encode(name: string): string {
  return encodeURIComponent(name.replace(/\p{Surrogate}/gu, '\uFFFD')).replace(/%(?:24|26|2B|2C|3A|3B|3D|40)/g, decodeURIComponent);
}

/**
 * Decodes every name of a URL's path. An escape that would become a separator or a zero byte stays, so that a name
 * never turns into two; what is not valid UTF-8 stays as it is.
 */
function decodeNames(path: string, windows: boolean): string {
  const kept = windows ? /%(?:2F|5C|00)/i : /%(?:2F|00)/i;
  const decoded = path.split('/').map((name) => name.split(new RegExp(`(${kept.source})`, 'i')).map((part) => (kept.test(part) ? part : decode(part))).join(''));
  return decoded.join(windows ? '\\' : '/');
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
