// The grand master.

import { useSession } from '../document/session.ts'
import { setLive } from '../live/desk.ts'
import { Master } from './Master.tsx'

export function GrandMaster() {
  const told = useSession(s => s.status?.live.grand ?? 1)
  return <Master name="Grand master" told={told} onChange={grand => void setLive({ grand })} />
}
