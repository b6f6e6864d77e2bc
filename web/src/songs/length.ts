// Lengths of time as they are read: minutes and seconds.

import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'

/** A song's length as written, each vamp once. */
export const lengthName = (timeline: Timeline): string => timeName(secondsAt(timeline.tempo, timeline.length))

/** @param seconds of any length; from an hour on, with hours */
export function timeName(seconds: number): string {
  const whole = Math.max(0, Math.round(seconds))
  const two = (n: number) => String(n).padStart(2, '0')
  const minutes = Math.floor(whole / 60)
  if (minutes < 60) return `${minutes}:${two(whole % 60)}`
  return `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(whole % 60)}`
}
