/** Set by the build to the package's version; sources that run unbuilt have none. */
declare const LINECUT_VERSION: string | undefined;

export const VERSION: string = typeof LINECUT_VERSION === 'string' ? LINECUT_VERSION : 'unbuilt';
