// The engine's clock as the page knows it: the offset between both, from the ping that was answered fastest.

interface Sample {
  readonly trip: number
  readonly offset: number
}

const KEPT = 8
let samples: Sample[] = []

/**
 * Takes an answered ping. All times in ms; the engine's clock is taken to have been read half-way.
 * @param sent and received: page time; @param engine: the engine's time
 * @returns whether it should be asked again soon, to have enough to choose from
 */
export function takePong(sent: number, received: number, engine: number): boolean {
  const trip = received - sent
  samples = [...samples.slice(1 - KEPT), { trip, offset: engine - (sent + received) / 2 }]
  return samples.length < KEPT
}

/** Forgets what it knows, when another server may answer. */
export function resetEngineClock(): void {
  samples = []
}

/** The engine's time at a page time, ms; null before the first answer. */
export function engineTime(page: number): number | null {
  const best = bestSample()
  return best ? page + best.offset : null
}

/** The page time at an engine's time, ms; null before the first answer. */
export function pageTime(engine: number): number | null {
  const best = bestSample()
  return best ? engine - best.offset : null
}

function bestSample(): Sample | undefined {
  let best: Sample | undefined
  for (const s of samples) if (!best || s.trip < best.trip) best = s
  return best
}
