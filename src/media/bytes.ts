/** Random access to a file's bytes, so that the readers here are pure and are tested without files. */
export interface ByteSource {
  /** Bytes in the file. */
  readonly size: number;
  /** The bytes of [offset, offset + length), fewer at the end of the file. */
  readonly read: (offset: number, length: number) => Uint8Array;
}

/** A file that is in memory. */
export const bytesOf = (bytes: Uint8Array): ByteSource => ({
  size: bytes.length,
  read: (offset, length) => bytes.subarray(offset, offset + length),
});

/** Reads ahead in blocks of `block` bytes, for walks that look at a few bytes here and there. */
export function buffered(file: ByteSource, block = 65_536): ByteSource {
  let start = 0;
  let held: Uint8Array = new Uint8Array(0);
  return {
    size: file.size,
    read: (offset, length) => {
      if (offset < start || offset + length > start + held.length) {
        start = offset;
        held = file.read(offset, Math.max(length, block));
      }
      return held.subarray(offset - start, offset - start + length);
    },
  };
}
