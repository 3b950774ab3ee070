/**
 * Text for `txt` and the attributes of xmlbuilder2, so that a reader gets it back: xmlbuilder2 4.0.3 writes `&` as it is where it takes it for
 * the beginning of a reference, so that `&amp;` in somebody's note would come back as `&`, and `&salt;` be no XML. What is escaped
 * beforehand it leaves alone. (Not for texts in an object given to `create`: it resolves references in these.)
 */
export const withAmpersands = (text: string): string => text.replaceAll('&', '&amp;');
