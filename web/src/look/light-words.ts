// A light in words: "60 %, chase, Ember to Cream".

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { nameOf, stopsOf } from '../cue/colour.ts'
import { shareScale } from '../cue/values.ts'

export function lightWords({ swatches }: Show, { level, motion, colours }: Light): string {
  const most = typeof level === 'number' ? level : Math.max(...level.map(point => point.level))
  const names = stopsOf(colours).map(stop => nameOf(stop.colour, swatches))
  return `${shareScale.text(most)}, ${motion.kind}, ${[...new Set(names)].join(' to ')}`
}
