/** Recordings as they are written: what a clip refers to, and what the timeline's metadata say of a source. */
import type { MediaFile, Source } from '../../cutlist/model.js';
import { countName } from '../../timecode/rate.js';
import { fileUrl, relativeUrl } from '../../file-url.js';
import { Double, type Json } from './json.js';
import { OURS, SCHEMA } from './schema.js';
import { range } from './time-json.js';
import type { OtioOptions } from './write.js';

/** The URL of a recording, as `--paths` wants it. */
const mediaUrl = (path: string, { paths, base, folder }: OtioOptions): string =>
  paths === 'relative' ? relativeUrl(path, base, folder) : fileUrl(path, base);

/** What a clip of a recording refers to: `index` is the file's place among the source's. */
export function mediaReference(source: Source | undefined, index: number | undefined, options: OtioOptions): Json {
  const file = index === undefined ? undefined : source?.files[index];
  if (source === undefined || file === undefined) return { OTIO_SCHEMA: SCHEMA.missing, metadata: {}, name: '', available_range: null };
  const url = mediaUrl(file.path, options);
  const first = source.files.findIndex(({ path }) => mediaUrl(path, options) === url);
  return {
    OTIO_SCHEMA: SCHEMA.external,
    metadata: first === index ? {} : { [OURS]: { file: index } },
    name: '',
    available_range: availableRange(file, source),
    target_url: url,
  };
}

const availableRange = (file: MediaFile, source: Source): Json =>
  file.start === undefined || file.frames === undefined
    ? null
    : range(new Double(file.start), new Double(file.frames), (file.count ?? source.count).rate);

/** Everything the model knows of a source, for `metadata.linecut.sources` of the timeline. */
export function sourceFacts(source: Source, options: OtioOptions): Json {
  return {
    id: source.id,
    name: source.name,
    reel: source.reel,
    aliases: source.aliases,
    picture: source.picture,
    recorded: source.recorded,
    rate: countName(source.count),
    starts: source.starts,
    offset: source.offset,
    sync: source.sync === undefined ? undefined : { ...source.sync },
    files: source.files.map((file) => ({
      url: mediaUrl(file.path, options),
      start: file.start,
      frames: file.frames,
      rate: file.count === undefined ? undefined : countName(file.count),
      channels: file.channels,
      size: file.size,
    })),
  };
}
