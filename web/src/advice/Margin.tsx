// The margin of a line: spectacles, and beside an open line where, what and which limit.

import { lineStart } from '../chart/lines.ts'
import type { PlacedLine } from '../chart/page.ts'
import { reveal } from '../chart/reveal.ts'
import { choose } from '../document/choice.ts'
import { useSession } from '../document/session.ts'
import { Sign } from '../ui/signs.tsx'
import { barsName, type Mark, showAdvice } from './marks.ts'

interface Props {
  at: PlacedLine
  marks: readonly Mark[]
  /** Of the margin, px. */
  width: number
}

/** Less than this is too narrow for words, px. */
const ROOM = 120
/** Less than this has no room for spectacles: they stand over the line's end. */
const SPECTACLES = 40
/** Height of a mark with its words, px. */
const WORDS = 47

export function Margin({ at, marks, width }: Props) {
  if (marks.length === 0) return null
  const small = width < SPECTACLES
  if (!at.open || width < ROOM) {
    const stops = marks.some(isStop)
    const many = marks.length > 1
    return (
      <div className="margin" style={{ marginTop: at.note, ...(small ? {} : { width }) }}>
        <button
          type="button"
          className={stops ? 'advice-mark stop' : 'advice-mark'}
          aria-label={`${marks.length} ${many ? 'marks' : 'mark'} of advice: ${marks.map(words).join('; ')}`}
          title={marks.map(words).join('\n')}
          onClick={() => (many ? showAll(at, marks) : showAdvice(marks[0]!.advice, marks[0]!.bars))}
        >
          <Sign name="specs" />
          <b>{marks.length}</b>
        </button>
      </div>
    )
  }
  const room = Math.max(1, Math.floor((at.height - 30) / WORDS))
  const shown = marks.length > room ? marks.slice(0, room - 1) : marks
  return (
    <div className="margin open" style={{ width, marginTop: at.note }}>
      {shown.map(mark => (
        <button
          key={mark.key}
          type="button"
          className={isStop(mark) ? 'advice-mark stop' : 'advice-mark'}
          title={mark.advice.says}
          onClick={() => showAdvice(mark.advice, mark.bars)}
        >
          <Sign name="specs" />
          <span>
            <span className="sr">Advice: </span>
            <b>{barsName(mark.bars)}</b>
            <span className="brief">{mark.advice.brief ?? mark.advice.says}</span>
            {isStop(mark) && <span className="sr"> Must not be played so</span>}
          </span>
        </button>
      ))}
      {shown.length < marks.length && (
        <button
          type="button"
          className="advice-mark more"
          onClick={() => useSession.setState({ showsAdvice: true })}
        >
          and {marks.length - shown.length} more
        </button>
      )}
    </div>
  )
}

const isStop = ({ advice }: Mark): boolean => advice.severity === 'stop'

const words = ({ advice, bars }: Mark): string =>
  `${barsName(bars)}, ${advice.brief ?? advice.says}${advice.severity === 'stop' ? ', must not be played so' : ''}`

/** Of several marks on a folded line: all cues behind them, and the list for their words. */
function showAll({ line }: PlacedLine, marks: readonly Mark[]): void {
  const cues = marks.flatMap(({ advice }) => advice.place.cues ?? [])
  choose([...new Map(cues.map(cue => [`${cue.section}/${cue.cue}`, cue])).values()])
  reveal(lineStart(line))
  useSession.setState({ showsAdvice: true })
}
