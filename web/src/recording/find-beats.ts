// Finds the beats of a recording with music-tempo (onsets by spectral flux, tempo by the intervals between them, then
// agents that follow the pulse), in pieces, so that it can say how far it is and needs little memory.

/// <reference path="./music-tempo.d.ts" />
import { CodedError } from '@glowchart/shared/errors.ts'
import BeatTracking from 'music-tempo/dist/node/BeatTracking.js'
import FFT from 'music-tempo/dist/node/FFT.js'
import OnsetDetection from 'music-tempo/dist/node/OnsetDetection.js'
import TempoInduction from 'music-tempo/dist/node/TempoInduction.js'

/** The rate that the library's hop of 441 samples makes steps of 10 ms of. */
export const BEAT_RATE = 44_100
const HOP = 441
/** Hops that are computed before each piece, so that it begins as if nothing had been cut (its window is 2048 long). */
const LEAD = 5
const PIECE = 1000
/** The library finds an onset one hop after it (measured: clicks with noise, 80 to 123 BPM, all of them 10 ms late). */
const LATE = HOP / BEAT_RATE

/**
 * Beat times in seconds, rising.
 * @param samples one channel at 44,100 Hz @param onProgress told the share that is done, 0…1
 * @throws CodedError `audio.noBeats`
 */
export function findBeats(
  samples: Float32Array,
  where: string,
  onProgress: (share: number) => void,
): readonly number[] {
  const flux = spectralFlux(samples, onProgress)
  try {
    OnsetDetection.normalize(flux)
    const peaks = OnsetDetection.findPeaks(flux)
    const onsets = peaks.map(peak => (peak * HOP) / BEAT_RATE)
    const clusters = TempoInduction.mergeClusters(TempoInduction.processRhythmicEvents(onsets))
    const intervals = TempoInduction.createTempoList({
      ...clusters,
      ...TempoInduction.calculateScore(clusters),
    })
    const least = flux.reduce((a, b) => Math.min(a, b))
    const agents = BeatTracking.trackBeat(
      onsets,
      peaks.map(peak => flux[peak]! - least),
      intervals,
    )
    const best = agents.reduce((a, b) => (b.score > a.score ? b : a))
    best.fillBeats()
    return best.events.map(time => time - LATE)
  } catch (error) {
    // The library throws texts, and finds no best one among no agents.
    const says = typeof error === 'string' ? error : 'no pulse goes on long enough'
    throw new CodedError('audio.noBeats', `no beats were found: ${says}`, where)
  }
}

function spectralFlux(samples: Float32Array, onProgress: (share: number) => void): number[] {
  const hops = Math.ceil(samples.length / HOP)
  const flux: number[] = []
  for (let from = 0; from < hops; from += PIECE) {
    const lead = Math.min(LEAD, from)
    const to = Math.min(hops, from + PIECE)
    const piece = Array.from(samples.subarray((from - lead) * HOP, Math.min(samples.length, to * HOP)))
    for (const value of OnsetDetection.calculateSF(piece, FFT).slice(lead)) flux.push(value)
    onProgress(to / hops)
  }
  return flux
}
