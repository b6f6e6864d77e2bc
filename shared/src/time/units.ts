// Units of musical and clock time, branded so that ticks, beats and seconds cannot be mixed up.

declare const unit: unique symbol

/** Position or length in ticks: 960 a quarter note. Stored ticks are integers; a played position may be fractional. */
export type Ticks = number & { readonly [unit]: 'ticks' }
/** Position or length in quarter notes. */
export type Beats = number & { readonly [unit]: 'beats' }
/** Time in seconds, of a song (from its first bar) or of a clock. */
export type Seconds = number & { readonly [unit]: 'seconds' }

/** Ticks in a quarter note. */
export const TICKS_PER_BEAT = 960
/** Ticks in one MIDI clock pulse (24 a quarter note, MIDI 1.0). */
export const TICKS_PER_PULSE = 40
/** Ticks in one unit of MIDI song position (a sixteenth, six pulses, MIDI 1.0). */
export const TICKS_PER_SONG_POSITION = 240

export const ticks = (n: number): Ticks => n as Ticks
export const beats = (n: number): Beats => n as Beats
export const seconds = (n: number): Seconds => n as Seconds

export const ticksOfBeats = (b: Beats): Ticks => (b * TICKS_PER_BEAT) as Ticks
export const beatsOfTicks = (t: Ticks): Beats => (t / TICKS_PER_BEAT) as Beats
