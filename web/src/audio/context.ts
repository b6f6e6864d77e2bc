// The page's one AudioContext: it starts by a hand on the page, and says when what it plays is heard.

let context: AudioContext | null = null
const waiting = new Set<(context: AudioContext) => void>()

/** The context, once a hand has started it. */
export const audioContext = (): AudioContext | null => context

/** Starts or wakes the sound; browsers allow it only inside a gesture (a click, a key). */
export function wakeAudio(): void {
  if (!context) {
    context = new AudioContext({ latencyHint: 'interactive' })
    offsets = []
    for (const tell of waiting) tell(context)
  }
  if (context.state !== 'running') void context.resume()
}

/** Calls `tell` with the context as soon as there is one. Returns what takes it back. */
export function onAudioContext(tell: (context: AudioContext) => void): () => void {
  if (context) tell(context)
  waiting.add(tell)
  return () => waiting.delete(tell)
}

/** Page time minus context time of what is heard at one moment, ms: the last readings. The card's buffers make them jump. */
let offsets: number[] = []
const KEPT = 31

/** Reads both clocks; to be called a few times a second while something sounds. */
export function readAudioClock(): void {
  if (context?.state !== 'running') return
  const { contextTime, performanceTime } = context.getOutputTimestamp()
  // Before the first buffer has left, there is no stamp yet.
  if (!contextTime || !performanceTime) return
  offsets = [...offsets.slice(1 - KEPT), performanceTime - 1000 * contextTime]
}

/** The context's time (s) of a sound that is to be heard at a page time (ms); null before the clock was read. */
export function contextTime(page: number): number | null {
  if (offsets.length === 0) return null
  const sorted = [...offsets].sort((a, b) => a - b)
  return (page - sorted[sorted.length >> 1]!) / 1000
}
