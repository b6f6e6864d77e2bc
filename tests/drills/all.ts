// All drills, in the order of a night.

import { chorusAgain, clickTwice, clockBack, midiGone, midiGone5, stopContinue } from './clock-drills.ts'
import { diskFull, fileDamaged } from './disk-drills.ts'
import type { Drill } from './drill.ts'
import { nodeAway, timeChanged } from './machine-drills.ts'
import { houseBlackout, phonesJoin } from './network-drills.ts'
import { boxDead, editBeforeDoors, twoBands } from './night-drills.ts'
import { appKilled, asleep, engineKilled, supervisorKilled } from './process-drills.ts'
import { set } from './set-drill.ts'
import { tapeBack } from './timecode-drill.ts'
import { firstKilled, firstUnplugged } from './understudy.ts'

export const drills: readonly Drill[] = [
  clickTwice,
  stopContinue,
  chorusAgain,
  midiGone5,
  midiGone,
  clockBack,
  tapeBack,
  asleep,
  nodeAway,
  boxDead,
  houseBlackout,
  phonesJoin,
  editBeforeDoors,
  appKilled,
  engineKilled,
  supervisorKilled,
  firstKilled,
  firstUnplugged,
  twoBands,
  diskFull,
  fileDamaged,
  timeChanged,
  set,
]

export const isLong = ({ name }: Drill): boolean => name === 'set'
