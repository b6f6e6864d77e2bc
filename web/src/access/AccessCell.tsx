// In the head of the run page: whether this page only looks on; and on the laptop, who else has the controls.

import { useSession } from '../document/session.ts'
import { Sign } from '../ui/signs.tsx'
import { useLooksOn } from './looking-on.ts'

export function AccessCell() {
  const role = useSession(s => s.role)
  const guests = useSession(s => s.access?.guests)
  const looksOn = useLooksOn()
  if (role === 'owner') {
    const holders = guests?.filter(guest => guest.role === 'controller') ?? []
    if (holders.length === 0) return null
    const who = holders.length === 1 ? `${holders[0]!.name} has` : `${holders.length} phones have`
    return (
      <a className="cell heed" href="#phones">
        <Sign name="specs" />
        {who} the controls too
      </a>
    )
  }
  return (
    <span className="cell">
      <Sign name={looksOn ? 'specs' : 'tick'} />
      {looksOn ? 'Looking on' : 'You have the controls'}
    </span>
  )
}
