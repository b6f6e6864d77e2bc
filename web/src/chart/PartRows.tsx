// The rows of an open line in words: a table of parts and their cues, each name on a plate over its light.

import { PartName } from '../part/PartName.tsx'
import type { CuePiece } from './cues.ts'
import type { PlacedLine } from './page.ts'
import { laneOf, type Row } from './rows.ts'

interface Props {
  at: PlacedLine
  pieces: readonly CuePiece[]
  barWidth: number
  chosen: ReadonlySet<string>
}

export function PartRows({ at, pieces, barWidth, chosen }: Props) {
  return (
    <table aria-label="Parts and their cues">
      <tbody>
        {at.rows.map(row => (
          <tr key={row.part.part}>
            <th scope="row" className="part" style={{ top: at.head + row.y + row.height / 2 }}>
              <PartName part={row.part.part} name={row.part.name} line={at.line} />
            </th>
            {pieces.map(piece =>
              piece.part === row.part.part ? (
                <Plate
                  key={piece.key}
                  piece={piece}
                  row={row}
                  head={at.head}
                  barWidth={barWidth}
                  chosen={chosen.has(piece.cue)}
                />
              ) : null,
            )}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

interface PlateProps {
  piece: CuePiece
  row: Row
  head: number
  barWidth: number
  chosen: boolean
}

/** Too narrow for a name, px. */
const NARROW = 26
/** Room for most names, px. */
const ROOM = 74

function Plate({ piece, row, head, barWidth, chosen }: PlateProps) {
  const width = (piece.to - piece.from) * barWidth
  const fade = piece.fadeIn === null ? 0 : (piece.fadeIn - piece.from) * barWidth * 0.9
  // After the hairpin, if the name has room there.
  const indent = fade > 0 && width - fade > ROOM ? fade + 6 : 5
  const lane = laneOf(row, piece.track)
  const top = head + lane.y + (lane.height > 30 ? 3 : (lane.height - 14) / 2)
  return (
    <td className={chosen ? 'cue chosen' : 'cue'} style={{ left: piece.from * barWidth, top, width }}>
      <span className="sr">{chosen ? `${piece.label}, chosen` : piece.label}</span>
      {piece.plate && width > NARROW && (
        <span className="plate" aria-hidden="true" style={{ marginLeft: indent }}>
          {piece.plate}
        </span>
      )}
    </td>
  )
}
