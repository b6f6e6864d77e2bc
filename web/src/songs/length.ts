// A song's length as it is read: minutes and seconds as written, each vamp once.

import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'

export function lengthName(timeline: Timeline): string {
  const seconds = Math.round(secondsAt(timeline.tempo, timeline.length))
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
}
