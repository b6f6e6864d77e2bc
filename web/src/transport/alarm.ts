// What is wrong right now, the worst first: what happened, and what the lights do; then what only explains them. Null when all is well.

import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { useSession } from '../document/session.ts'
import { clockNames } from './clock-words.ts'

export interface Alarm {
  readonly what: string
  readonly lights: string
  /** Nothing is wrong, but who looks at the stage wonders. */
  readonly calm?: boolean
}

export function useAlarm(): Alarm | null {
  const link = useSession(s => s.link)
  const stale = useSession(s => s.framesStale)
  const status = useSession(s => s.status)
  if (link === 'opening') return null
  if (link === 'lost') return { what: 'Not connected', lights: 'nothing here reaches the lights' }
  if (!status) return { what: 'The light engine is down', lights: 'nothing here reaches the lights' }
  if (stale) return { what: 'No frames from the engine', lights: 'the stage shown is old' }
  return statusAlarm(status)
}

function statusAlarm({ clock, outputs, house, playing, check }: EngineStatus): Alarm | null {
  if (house.blackout) {
    return {
      what: 'Dark by the house',
      lights:
        house.state === 'lost'
          ? 'it is no longer heard: Release is at the head of Run'
          : `${house.source} lifts it`,
    }
  }
  if (clock.lock === 'lost') {
    return {
      what: `${clockNames[clock.source]} lost`,
      lights: playing ? `the lights keep time at ${clock.bpm.toFixed(1)} by themselves` : 'nothing plays now',
    }
  }
  if (house.state === 'lost' && house.grand < 1) {
    return { what: 'House lost', lights: `its master is held at ${Math.round(house.grand * 100)} %` }
  }
  const failing = outputs.filter(o => o.says !== '')
  const first = failing[0]
  if (!first && check === 'on')
    return { what: 'Line check', lights: 'it has the lights till a song plays', calm: true }
  if (!first && check === 'dark')
    return {
      what: 'Dark since the line check',
      lights: 'the next press lights it',
      calm: true,
    }
  if (!first) return null
  return {
    what: first.says,
    lights: failing.length > 1 ? `and ${failing.length - 1} more ways out` : 'still sending',
  }
}
