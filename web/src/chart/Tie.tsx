// The tie over a line on which several cues are chosen, with their count.

import { useChoice } from '../document/choice.ts'
import type { CuePiece } from './cues.ts'

interface Props {
  pieces: readonly CuePiece[]
  /** Of those on the line. */
  chosen: ReadonlySet<string>
  barWidth: number
  /** Where the rows begin, px from the top of the field. */
  head: number
}

export function Tie({ pieces, chosen, barWidth, head }: Props) {
  const count = useChoice(s => s.cues.length)
  const held = pieces.filter(piece => chosen.has(piece.cue))
  if (count < 2 || held.length === 0) return null
  const from = Math.min(...held.map(piece => piece.from)) * barWidth
  const to = Math.max(...held.map(piece => piece.to)) * barWidth
  return (
    <>
      <span className="tie" style={{ left: from, width: to - from, top: head - 3 }} />
      <span className="tie-count" style={{ left: (from + to) / 2, top: 0 }}>
        {count} cues
      </span>
    </>
  )
}
