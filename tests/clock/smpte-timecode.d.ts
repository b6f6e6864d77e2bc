// What the tests use of the package smpte-timecode, which brings no types.

declare module 'smpte-timecode' {
  export default class Timecode {
    /** @param time the number of a frame, or its label; throws for one that is left out */
    constructor(time: number | string, rate: number, dropFrame: boolean)
    readonly frameCount: number
    toString(): string
    /** Today, at the time of day that the label stands for in real time. */
    toDate(): Date
  }
}
