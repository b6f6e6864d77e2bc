// The head of the margin: how many marks of advice there are; it opens the list of all.

import { useSession } from '../document/session.ts'
import { Sign } from '../ui/signs.tsx'
import { useAdvice } from './advising.ts'

/** Nothing is claimed of a song that has not been read. */
export function AdviceHead({ song }: { song: string }) {
  const of = useAdvice(s => s.songs[song])
  const stage = useAdvice(s => s.stage)
  const shows = useSession(s => s.showsAdvice)
  if (!of) return null
  const count = of.length + stage.length
  if (count === 0) return <p className="advice-head">No advice</p>
  return (
    <button
      type="button"
      className="advice-head"
      aria-expanded={shows}
      aria-controls="advice"
      onClick={() => useSession.setState({ showsAdvice: !shows })}
    >
      Advice, {count} {count === 1 ? 'mark' : 'marks'}
      <Sign name="unfold" />
    </button>
  )
}
