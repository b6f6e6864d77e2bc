// The grand master.

import { useSession } from '../document/session.ts'
import { setLive } from '../live/desk.ts'
import { Master } from './Master.tsx'

export function GrandMaster({ relative }: { relative?: boolean }) {
  const told = useSession(s => s.status?.live.grand ?? 1)
  return (
    <Master
      name="Grand master"
      told={told}
      {...(relative && { relative })}
      onChange={grand => void setLive({ grand })}
    />
  )
}
