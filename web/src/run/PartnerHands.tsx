// The second laptop among more of what hands can do, behind the guard: it takes the light, or takes it back.

import { say, useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'
import { HoldButton } from './HoldButton.tsx'

export function PartnerHands() {
  const understudy = useSession(s => s.status?.understudy)
  const isOwner = useSession(s => s.role === 'owner')
  if (understudy?.state !== 'leads' || !understudy.partner || !isOwner) return null
  const { name, ready } = understudy.partner
  return (
    <>
      <h2>Second laptop</h2>
      <div className="acts">
        <HoldButton
          idle={!ready}
          fire={() => {
            if (ready) void handOver(name)
            return undefined
          }}
        >
          <b>Hand over to {name}</b>
          <small>{ready ? 'It goes on where the song is' : understudy.says}</small>
        </HoldButton>
      </div>
    </>
  )
}

async function handOver(name: string): Promise<void> {
  const answer = await askUnderstudy({ do: 'handOver' })
  if (answer.ok) say(`${name} drives the light now.`)
}
