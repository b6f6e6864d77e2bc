// The outline of a waveform: the peak of every short stretch of samples.

/** Samples in a stretch: 2.9 ms at 44,100 Hz. */
export const PEAK_SAMPLES = 128

/** The largest magnitude in each stretch. */
export function peaksOf(samples: Float32Array): Float32Array<ArrayBuffer> {
  const peaks = new Float32Array(Math.ceil(samples.length / PEAK_SAMPLES))
  for (let i = 0; i < samples.length; i++) {
    const at = Math.floor(i / PEAK_SAMPLES)
    peaks[at] = Math.max(peaks[at]!, Math.abs(samples[i]!))
  }
  return peaks
}

/** The largest peak from stretch `from` up to `to` (fractions), at least of the one that `from` lies in; 0 outside. */
export function peakBetween(peaks: Float32Array, from: number, to: number): number {
  let most = 0
  const last = Math.min(peaks.length - 1, Math.max(Math.floor(from), Math.ceil(to) - 1))
  for (let i = Math.max(0, Math.floor(from)); i <= last; i++) most = Math.max(most, peaks[i]!)
  return most
}
