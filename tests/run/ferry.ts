// The demo's song with a vamp, laid out.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { timelineOf } from '@glowchart/shared/time/timeline.ts'

export function ferryVamp(show: Show) {
  const timeline = timelineOf(show.songs.ferry!)
  const vamp = timeline.sections.find(section => section.vamp)
  if (!vamp) throw new Error('the demo has no vamp any more')
  return { timeline, vamp }
}
