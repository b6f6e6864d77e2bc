// What went wrong between two laptops, said where it was pressed.

import type { Problem } from '@glowchart/shared/errors.ts'

/** A press that is refused since this laptop follows was made elsewhere, and is told there. */
export const isOfUnderstudy = ({ code }: Problem): boolean =>
  code.startsWith('understudy.') && code !== 'understudy.follows'

/** Two sentences; empty for a problem of something else. */
export function ofUnderstudy(problem: Problem | null): string {
  if (!problem || !isOfUnderstudy(problem)) return ''
  const { message, remedy } = problem
  return `${message.charAt(0).toUpperCase()}${message.slice(1)}. ${remedy}`
}
