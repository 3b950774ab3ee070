/** What the system says of files, in words people know. */

/** What went wrong with a file, by the system's error; anything else that was thrown says it itself. */
export function fileTrouble(cause: unknown): string {
  const { code, message } = cause as Partial<NodeJS.ErrnoException>;
  return TROUBLES[code ?? ''] ?? message ?? String(cause);
}

const TROUBLES: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  EACCES: 'permission denied',
  EPERM: 'permission denied',
  EISDIR: 'it is a folder',
  ENOTDIR: 'a part of the path is not a folder',
  EEXIST: 'something else has that name',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EROFS: 'the file system is read-only',
  ENAMETOOLONG: 'the name is too long',
  EMFILE: 'too many files are open',
  ELOOP: 'too many links',
  EFBIG: 'the file would be too large',
  EIO: 'the device reports an error',
};
