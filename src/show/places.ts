/** Where the keys of the show files read so far stand, for what is found out about them later. */
import type { JsonPath } from '../json.js';
import type { Place } from '../problems.js';
import type { ShowFile } from './show.js';

const placesOf = new WeakMap<ShowFile, (path: JsonPath) => Place>();

export const rememberPlaces = (show: ShowFile, placeOf: (path: JsonPath) => Place): void => {
  placesOf.set(show, placeOf);
};

/** Where a key of a show file stands; the file alone when the show did not come from `readShowFile`. */
export const showPlace = (show: ShowFile, path: JsonPath, file: string): Place => placesOf.get(show)?.(path) ?? { file };
