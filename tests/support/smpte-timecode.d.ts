/** What the tests use of smpte-timecode, which brings no types. */
declare module 'smpte-timecode' {
  class Timecode {
    constructor(timecode: number | string, rate: readonly [number, number], dropFrame: boolean);
    readonly frameCount: number;
    toString(): string;
  }
  export = Timecode;
}
