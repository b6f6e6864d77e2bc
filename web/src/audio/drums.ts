// The drum kit: each sound is made once by Tone's synthesisers and then played from memory, so that a hit costs little.

import { Filter, MembraneSynth, MetalSynth, NoiseSynth, Offline, type ToneAudioBuffer } from './tone.ts'

/** How a drum is struck at second 0 of its buffer; `seconds` is how long it rings. */
interface Drum {
  readonly seconds: number
  strike(): void
}

const skin = (note: string, decay: number, octaves: number, pitchDecay: number, volume = 0): Drum => ({
  seconds: decay + 0.1,
  strike: () =>
    new MembraneSynth({
      octaves,
      pitchDecay,
      volume,
      envelope: { attack: 0.001, decay, sustain: 0, release: 0.05 },
    })
      .toDestination()
      .triggerAttackRelease(note, decay, 0),
})

const rattle = (
  pass: 'highpass' | 'bandpass',
  frequency: number,
  decay: number,
  volume: number,
  type: 'white' | 'pink' = 'white',
): Drum => ({
  seconds: decay + 0.1,
  strike: () =>
    new NoiseSynth({ noise: { type }, volume, envelope: { attack: 0.001, decay, sustain: 0, release: 0.02 } })
      .chain(new Filter(frequency, pass).toDestination())
      .triggerAttackRelease(decay, 0),
})

const metal = (frequency: number, decay: number, resonance: number, volume: number): Drum => ({
  seconds: decay + 0.1,
  strike: () =>
    new MetalSynth({
      volume,
      harmonicity: 5.1,
      modulationIndex: 24,
      resonance,
      octaves: 1.4,
      envelope: { attack: 0.001, decay, release: 0.05 },
    })
      .toDestination()
      .triggerAttackRelease(frequency, decay, 0),
})

const both = (...drums: Drum[]): Drum => ({
  seconds: Math.max(...drums.map(d => d.seconds)),
  strike: () => {
    for (const drum of drums) drum.strike()
  },
})

const kit = {
  kick: both(skin('C1', 0.38, 5.5, 0.035, -1), rattle('bandpass', 2600, 0.012, -22)),
  rim: both(skin('A4', 0.05, 1.5, 0.008, -10), rattle('bandpass', 2400, 0.03, -16)),
  snare: both(skin('G2', 0.13, 2.4, 0.02, -7), rattle('highpass', 1300, 0.17, -13)),
  clap: rattle('bandpass', 1500, 0.19, -7),
  lowTom: skin('F1', 0.42, 3, 0.05, -4),
  midTom: skin('A#1', 0.36, 3, 0.05, -4),
  highTom: skin('D#2', 0.3, 3, 0.045, -4),
  hat: rattle('highpass', 7800, 0.045, -15),
  pedal: rattle('highpass', 6800, 0.07, -19),
  openHat: rattle('highpass', 7000, 0.32, -17),
  shaker: rattle('bandpass', 5600, 0.06, -14, 'pink'),
  ride: both(metal(310, 0.9, 5200, -36), rattle('highpass', 9000, 0.1, -28)),
  crash: both(metal(240, 1.5, 3600, -34), rattle('highpass', 4200, 1.1, -19)),
  bell: metal(520, 0.5, 4200, -30),
}
type Name = keyof typeof kit

/** The keys of the General MIDI percussion map (General MIDI 1) that the kit has a sound for; the nearest serves others. */
const keys: Readonly<Record<number, Name>> = {
  35: 'kick',
  36: 'kick',
  37: 'rim',
  38: 'snare',
  39: 'clap',
  40: 'snare',
  41: 'lowTom',
  42: 'hat',
  43: 'lowTom',
  44: 'pedal',
  45: 'midTom',
  46: 'openHat',
  47: 'midTom',
  48: 'highTom',
  49: 'crash',
  50: 'highTom',
  51: 'ride',
  53: 'bell',
  54: 'shaker',
  55: 'crash',
  56: 'bell',
  57: 'crash',
  59: 'ride',
  69: 'shaker',
  70: 'shaker',
}

/** The sound of a percussion key: a skin below the mapped keys, a shaker above. */
export const drumOf = (key: number): Name => keys[key] ?? (key < 52 ? 'midTom' : 'shaker')

export type DrumKit = Readonly<Record<Name, ToneAudioBuffer>>

/** Makes every sound of the kit. */
export async function makeDrums(): Promise<DrumKit> {
  const made: [string, ToneAudioBuffer][] = []
  // One after the other: while one is made, Tone's own context is another.
  for (const [name, drum] of Object.entries(kit)) {
    made.push([name, await Offline(() => drum.strike(), drum.seconds, 1)])
  }
  return Object.fromEntries(made) as DrumKit
}
