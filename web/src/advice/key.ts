// What one piece of advice is known by on the page.

import type { Advice } from '@glowchart/shared/advice/advice.ts'

const keys = new WeakMap<Advice, string>()

/** The same for the same advice, read anew. A long song has hundreds, and their keys are asked for with every edit. */
export function keyOf(advice: Advice): string {
  let key = keys.get(advice)
  if (key === undefined) {
    key = `${advice.kind} ${JSON.stringify(advice.place)}`
    keys.set(advice, key)
  }
  return key
}
