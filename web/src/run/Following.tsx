// In place of the hands on a laptop that follows: nothing here reaches the light, until it takes over.

import { LOOKS_ON, useLooksOn } from '../access/looking-on.ts'
import { say, useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'
import { useGuard } from './guard.ts'
import { HoldButton } from './HoldButton.tsx'
import './following.css'

async function takeOver(): Promise<void> {
  const answer = await askUnderstudy({ do: 'takeOver' })
  if (answer.ok) say('This laptop drives the light now.')
}

export function Following() {
  const understudy = useSession(s => s.status?.understudy ?? null)
  const isGuarded = useGuard(s => s.on)
  const looksOn = useLooksOn()
  if (understudy?.state !== 'follows') return null
  const { says, well } = understudy
  return (
    <section className="following" aria-label="Understudy">
      <div role="status">
        <b className={well}>{says}</b>
        <p>
          {looksOn ? LOOKS_ON : 'Read only: pedals, keys and hands here reach no light until it takes over.'}
        </p>
      </div>
      <HoldButton
        className="take"
        label="Take over now"
        fire={() => {
          void takeOver()
          return undefined
        }}
      >
        <b>Take over now</b>
        {isGuarded && <small>press and hold</small>}
      </HoldButton>
    </section>
  )
}
