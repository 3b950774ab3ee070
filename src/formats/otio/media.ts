/** A clip's media reference: Clip.2 has several under keys, Clip.1 has one. */
import { objectAt, schemaOf, textAt, type At } from './document.js';

/** The active media reference of a clip, or undefined where it has none. */
export function mediaOf(clip: At): At | undefined {
  const references = objectAt(clip, 'media_references');
  if (references === undefined) return objectAt(clip, 'media_reference');
  const key = textAt(clip, 'active_media_reference_key');
  return objectAt(references, key === '' ? 'DEFAULT_MEDIA' : key);
}

/** The URL that a reference points at: a file's, or that of the first picture of a sequence of images. Undefined where there is none. */
export function urlOf(reference: At | undefined): string | undefined {
  if (reference === undefined) return undefined;
  const url = textAt(reference, 'target_url');
  if (url !== '') return url;
  if (schemaOf(reference) !== 'ImageSequenceReference') return undefined;
  const { start_frame: first, frame_zero_padding: padding } = reference.members;
  const base = textAt(reference, 'target_url_base');
  const digits = String(typeof first === 'number' ? first : 0).padStart(typeof padding === 'number' ? Math.min(padding, 20) : 0, '0');
  return `${base}${base === '' || base.endsWith('/') ? '' : '/'}${textAt(reference, 'name_prefix')}${digits}${textAt(reference, 'name_suffix')}`;
}

/** True for a generator of black, as the reference EDL adapter makes one of reel BL. */
export const isBlack = (reference: At | undefined): boolean =>
  reference !== undefined && schemaOf(reference) === 'GeneratorReference' && textAt(reference, 'generator_kind').toLowerCase() === 'black';
