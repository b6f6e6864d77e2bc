// All drills, in the order of a night.

import { chorusAgain, clickTwice, clockBack, midiGone, midiGone5, stopContinue } from './clock-drills.ts'
import type { Drill } from './drill.ts'
import { appKilled, asleep, engineKilled, supervisorKilled } from './process-drills.ts'
import { set } from './set-drill.ts'

export const drills: readonly Drill[] = [
  clickTwice,
  stopContinue,
  chorusAgain,
  midiGone5,
  midiGone,
  clockBack,
  asleep,
  appKilled,
  engineKilled,
  supervisorKilled,
  set,
]

export const isLong = ({ name }: Drill): boolean => name === 'set'
