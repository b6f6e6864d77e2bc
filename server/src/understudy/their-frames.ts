// When the other laptop's frames are due on our clock, from when its heartbeats come.

/** Heartbeats that are weighed against one another: ten seconds of them; in those, two clocks part by half a millisecond. */
const WINDOW = 100
/** A network's own way is shorter, ms; what takes longer is a machine that had no time, and that is on one side. */
const MOST_WAY = 5
/** Our own grid stays until it is further off than this, ms: each move costs a moment's evenness. */
const NEAR_ENOUGH = 1.5

export interface TheirFrames {
  /**
   * Takes a heartbeat: frame `frame` was due `age` ms before it left, and it came at `at` (ms). `trip`: ms there and
   * back, null while unknown. Returns where our grid should begin, or null where it is near enough.
   */
  heard(frame: number, rate: number, age: number, at: number, trip: number | null): number | null
}

export function theirFrames(): TheirFrames {
  let origins: number[] = []
  let trips: number[] = []
  let rateBefore = 0
  let frameBefore = 0
  let applied = Number.NaN
  return {
    heard(frame, rate, age, at, trip) {
      // The quickest trip is the cable's; what others took longer was waiting.
      if (trip !== null) trips = [...trips.slice(1 - WINDOW), trip]
      const way = trips.length === 0 ? 0 : Math.min(MOST_WAY, Math.min(...trips) / 2)
      const origin = at - age - way - (frame * 1000) / rate
      // It counts anew: its engine was started again. A heartbeat that is merely late says nothing of the kind.
      if (rate !== rateBefore || frame < frameBefore) origins = []
      rateBefore = rate
      frameBefore = frame
      origins = [...origins.slice(1 - WINDOW), origin]
      // The quickest of them was delayed least.
      const best = Math.min(...origins)
      if (Math.abs(best - applied) <= NEAR_ENOUGH) return null
      applied = best
      return best
    },
  }
}
