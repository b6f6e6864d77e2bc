// The parts of music-tempo 1.0.3 that find beats, as far as they are used here: the package has no types of its own.

declare module 'music-tempo/dist/node/FFT.js' {
  const FFT: unique symbol
  export default FFT
}

declare module 'music-tempo/dist/node/OnsetDetection.js' {
  const OnsetDetection: {
    /** Spectral flux of samples at 44,100 Hz, one value for every 441 of them. */
    calculateSF(samples: number[], fft: unknown, params?: object): number[]
    /** In place: mean 0, deviation 1. */
    normalize(flux: number[]): void
    /** Indices of the onsets. @throws a string when there are fewer than two */
    findPeaks(flux: number[], params?: object): number[]
  }
  export default OnsetDetection
}

declare module 'music-tempo/dist/node/TempoInduction.js' {
  interface Clusters {
    clIntervals: number[]
    clSizes: number[]
  }
  interface Scores {
    clScores: number[]
    clScoresIdxs: number[]
  }
  const TempoInduction: {
    /** Onset times in s. @throws a string when no interval between them is that of a beat */
    processRhythmicEvents(events: number[]): Clusters
    mergeClusters(clusters: Clusters): Clusters
    calculateScore(clusters: Clusters): Scores
    /** Beat intervals, s, the likeliest first. */
    createTempoList(clusters: Clusters & Scores): number[]
  }
  export default TempoInduction
}

declare module 'music-tempo/dist/node/BeatTracking.js' {
  interface Agent {
    score: number
    beatInterval: number
    /** Beat times, s; whole after `fillBeats`. */
    events: number[]
    fillBeats(): void
  }
  const BeatTracking: {
    trackBeat(events: number[], scores: number[], intervals: number[]): Agent[]
  }
  export default BeatTracking
}
