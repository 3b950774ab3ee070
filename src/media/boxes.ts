/** The boxes of a QuickTime or MP4 file, as far as one must know them to trust a count of frames (ISO/IEC 14496-12). */
import type { ByteSource } from './bytes.js';

export interface BoxSurvey {
  /** True when the frames lie in movie fragments (`moof`), as recorders write that must survive a power cut. */
  readonly fragmented: boolean;
  /** Where the last box ends that is wholly there. The file's size when nothing is missing. */
  readonly wholeEnd: number;
}

/**
 * Walks the boxes at the top of a file, header by header. In a fragmented file a box can be cut off: the frames of
 * the fragments before it are sound, and `wholeEnd` is where they end. A `moof` whose `mdat` is cut off counts as cut off itself.
 */
export function surveyBoxes(file: ByteSource): BoxSurvey {
  let fragmented = false;
  let offset = 0;
  let fragment: number | undefined;
  while (offset + 8 <= file.size) {
    const head = file.read(offset, 16);
    const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
    const type = String.fromCharCode(head[4] ?? 0, head[5] ?? 0, head[6] ?? 0, head[7] ?? 0);
    let size = view.getUint32(0);
    if (size === 1) size = head.length < 16 ? 0 : Number(view.getBigUint64(8));
    else if (size === 0) size = file.size - offset;
    if (size < 8 || offset + size > file.size) return { fragmented, wholeEnd: fragment ?? offset };
    if (type === 'moof') {
      fragmented = true;
      fragment = offset;
    } else if (type === 'mdat') fragment = undefined;
    offset += size;
  }
  return { fragmented, wholeEnd: fragment ?? (offset < file.size ? offset : file.size) };
}
