// A row of the preflight: what was checked, how it is, and what to do about it. It claims only what is known.

/**
 * `good`: checked, and well. `heed`: the show goes on, but look at it. `stop`: do not open the doors so. `unknown`:
 * nothing here can tell, and why stands beside it.
 */
export type Result = 'good' | 'heed' | 'stop' | 'unknown'

export const checkIds = [
  'files',
  'disk',
  'recordings',
  'set',
  'songs',
  'version',
  'patch',
  'parts',
  'faults',
  'lineCheck',
  'wiring',
  'cables',
  'power',
  'flash',
  'strobe',
  'universes',
  'nodes',
  'sending',
  'house',
  'frames',
  'clock',
  'ports',
  'pedals',
  'mains',
  'sleep',
  'time',
  'pages',
  'understudy',
] as const
export type CheckId = (typeof checkIds)[number]

/** Where on the page it is mended. */
export type GoTo =
  | 'chart'
  | 'setlist'
  | 'workbench'
  | 'rig'
  | 'outputs'
  | 'check'
  | 'paper'
  | 'phones'
  | 'run'

/** What a button beside the row does: goes to a place (and a song), or mends it at once. */
export type Mend =
  | { readonly do: 'go'; readonly place: GoTo; readonly song?: string }
  /** Sends where the show was sent last time. */
  | { readonly do: 'send' }
  /** Asks the nodes again. */
  | { readonly do: 'ask' }
  /** Arms power limits, in amps. */
  | { readonly do: 'arm'; readonly limits: readonly { readonly box: string; readonly amps: number }[] }
  /** Sets tonight's limit on strobes, flashes a second. */
  | { readonly do: 'limitStrobes'; readonly flashes: number }

export interface Row {
  readonly id: CheckId
  /** What was checked, in a few words. */
  readonly checked: string
  readonly result: Result
  /** What was found, in a sentence or two. */
  readonly says: string
  /** More of the same, one a line. */
  readonly more?: readonly string[]
  /** What to do; none where nothing needs to be done. */
  readonly remedy?: string
  readonly mend?: Mend
}

/** The worst first. */
const order: readonly Result[] = ['stop', 'heed', 'unknown', 'good']

export const worst = (results: readonly Result[]): Result =>
  order.find(result => results.includes(result)) ?? 'good'
