// Over the run page of a laptop that follows: nothing here reaches the light, until it takes over.

import { useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'
import { HoldButton } from './HoldButton.tsx'
import './following.css'

export function Following() {
  const understudy = useSession(s => s.status?.understudy ?? null)
  if (understudy?.state !== 'follows') return null
  return (
    <section className="following" aria-label="Understudy">
      <p>{understudy.says}. Read only.</p>
      <HoldButton
        className="plain"
        label="Take over now"
        fire={() => {
          void askUnderstudy({ do: 'takeOver' })
          return undefined
        }}
      >
        Take over now
      </HoldButton>
    </section>
  )
}
