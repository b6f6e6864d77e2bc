// From readings to incidents: what flashes when, said once, at the widest scope in which it shows.

import type { FlashSpan } from './count.ts'
import { type FlashKind, type FlashMeter, flashKinds } from './meter.ts'
import type { Scope } from './scopes.ts'

/** Frames from…to (both included) in which some scopes flash. */
export interface Incident {
  readonly from: number
  readonly to: number
  /** The most transitions of one kind in one second. */
  readonly transitions: number
  readonly kinds: readonly FlashKind[]
  readonly scopes: readonly Scope[]
}

/**
 * The incidents of one sort. What a wider scope with the same fixtures shows is not repeated for a narrower one;
 * single fixtures that flash at the same time are one incident. `told`: what need not be said again.
 */
export function incidentsOf(
  sort: 'fast' | 'long',
  scopes: readonly Scope[],
  meter: FlashMeter,
  rate: number,
  told: readonly Incident[] = [],
): Incident[] {
  const incidents: Incident[] = []
  const singles: Incident[] = []
  scopes.forEach((scope, signal) => {
    const covered = [...told, ...incidents].filter(i => i.scopes.some(wide => includes(wide, scope)))
    const found = flashKinds.flatMap(kind =>
      meter.reading(signal, kind)[sort].map(span => incident(span, kind, scope)),
    )
    const rest = joined(found, rate).flatMap(i => outside(i, covered, rate))
    if (scope.of === 'fixture') singles.push(...rest)
    else incidents.push(...rest)
  })
  return [...incidents, ...joined(singles, rate)].sort((a, b) => a.from - b.from)
}

const incident = ({ from, to, transitions }: FlashSpan, kind: FlashKind, scope: Scope): Incident => ({
  from,
  to,
  transitions,
  kinds: [kind],
  scopes: [scope],
})

const includes = (wide: Scope, narrow: Scope): boolean =>
  narrow.fixtures.every(f => wide.fixtures.includes(f))

/** Incidents in order, those less than a second apart made one. */
function joined(incidents: readonly Incident[], rate: number): Incident[] {
  const order = [...incidents].sort((a, b) => a.from - b.from)
  const out: Incident[] = []
  for (const next of order) {
    const last = out.at(-1)
    if (!last || next.from > last.to + rate) out.push(next)
    else {
      out[out.length - 1] = {
        from: last.from,
        to: Math.max(last.to, next.to),
        transitions: Math.max(last.transitions, next.transitions),
        kinds: flashKinds.filter(kind => last.kinds.includes(kind) || next.kinds.includes(kind)),
        scopes: inOrder([...last.scopes, ...next.scopes]),
      }
    }
  }
  return out
}

/** Each scope once, in the order of the stage. */
const inOrder = (scopes: readonly Scope[]): Scope[] =>
  [...new Set(scopes)].sort((a, b) => (a.fixtures[0] ?? 0) - (b.fixtures[0] ?? 0))

/** What of an incident lies outside others. Pieces of less than a second are edges of what is told already. */
function outside(whole: Incident, others: readonly Incident[], rate: number): Incident[] {
  let pieces: Incident[] = [whole]
  for (const other of others) {
    pieces = pieces.flatMap(piece => {
      if (other.to < piece.from || other.from > piece.to) return [piece]
      return [
        { ...piece, to: other.from - 1 },
        { ...piece, from: other.to + 1 },
      ].filter(p => p.to - p.from >= rate)
    })
  }
  return pieces
}
