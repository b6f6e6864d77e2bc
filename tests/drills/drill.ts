// What a drill is: something goes wrong on the real product, figures are measured, and each has a limit with its source.

/** What a figure may be; `tells` figures are printed and judged by nobody. */
type Limit = { atMost: number } | { atLeast: number } | { exactly: number } | 'tells'

export interface Figure {
  /** Such as "longest gap at the receiver". */
  what: string
  value: number
  /** Such as "ms"; empty for a count. */
  unit: string
  limit: Limit
  /** Where the limit comes from; left out for what only tells. */
  source?: string
}

export interface Drill {
  /** What it is called on the command line. */
  name: string
  /** What goes wrong, and what must come of it, in a line. */
  title: string
  /** Why this machine cannot run it, and how to get there; null: it can. */
  lacks?: () => string | null
  run(options: DrillOptions): Promise<Figure[]>
}

export interface DrillOptions {
  /** For drills that go on for as long as one likes. */
  minutes: number
  /** Runs as briefly as the drill still means something: inside `npm test`. */
  short: boolean
}

export interface Outcome {
  drill: Drill
  verdict: 'pass' | 'FAIL' | 'not run'
  figures: Figure[]
  /** Why it failed without figures, or was not run. */
  says: string
  seconds: number
}

const isWithin = ({ value, limit }: Figure): boolean => {
  if (limit === 'tells') return true
  // A figure that could not be measured is within nothing.
  if (!Number.isFinite(value)) return false
  if ('atMost' in limit) return value <= limit.atMost
  return 'atLeast' in limit ? value >= limit.atLeast : value === limit.exactly
}

/** Runs one drill; whatever it throws is a failure with its words. */
export async function outcomeOf(drill: Drill, options: DrillOptions): Promise<Outcome> {
  const lacks = drill.lacks?.() ?? null
  if (lacks !== null) return { drill, verdict: 'not run', figures: [], says: lacks, seconds: 0 }
  const began = performance.now()
  const seconds = (): number => (performance.now() - began) / 1000
  try {
    const figures = await drill.run(options)
    const verdict = figures.length > 0 && figures.every(isWithin) ? 'pass' : 'FAIL'
    return { drill, verdict, figures, says: '', seconds: seconds() }
  } catch (error) {
    const says = error instanceof Error ? (error.stack ?? error.message) : String(error)
    return { drill, verdict: 'FAIL', figures: [], says, seconds: seconds() }
  }
}

/** One line: name, verdict, every figure with its limit and the limit's source. */
export function lineOf({ drill, verdict, figures, says }: Outcome): string {
  const words = figures.map(figure => {
    const mark = isWithin(figure) ? '' : '✗ '
    return `${mark}${figure.what} ${measuredOf(figure)}${limitOf(figure, true)}`
  })
  return `${verdict.padEnd(7)} ${drill.name}: ${[...words, ...(says ? [says] : [])].join('; ')}`
}

export const measuredOf = ({ value, unit }: Figure): string => `${rounded(value)}${unit && ` ${unit}`}`

/** " (at most 100 ms: why)", or nothing. */
export function limitOf({ limit, unit, source }: Figure, withSource = false): string {
  if (limit === 'tells') return ''
  const [words, value] =
    'atMost' in limit
      ? ['at most', limit.atMost]
      : 'atLeast' in limit
        ? ['at least', limit.atLeast]
        : ['exactly', limit.exactly]
  return ` (${words} ${rounded(value)}${unit && ` ${unit}`}${withSource && source ? `: ${source}` : ''})`
}

const rounded = (value: number): string =>
  Number.isInteger(value) ? String(value) : value.toFixed(Math.abs(value) < 10 ? 2 : 1)
