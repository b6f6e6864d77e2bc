// How the pair stands, in one line that a player reads on a dark stage.

import type { Output } from '@glowchart/shared/show/output.ts'
import type { Comparison } from '@glowchart/shared/understudy/beat.ts'
import type { UnderstudyStatus } from '@glowchart/shared/understudy/status.ts'

/** A partner that has been silent for longer is missing, ms. */
const MISSING = 1000
/** E1.31-2018 6.2.3. */
const HIGHEST_PRIORITY = 200

export interface Standing {
  readonly role: 'leads' | 'follows'
  /** Its name; null while there is none. */
  readonly partner: string | null
  /** Ms since it was heard; null: never. */
  readonly heard: number | null
  readonly compared: Comparison | null
  readonly ready: boolean
  /** It has taken over, and its streams still go before those of the other. */
  readonly lift: number
  readonly output: Output | null
  readonly fault: string
}

export function saysOf(standing: Standing): Pick<UnderstudyStatus, 'well' | 'says'> {
  const { role, partner, heard, compared, ready, lift, output, fault } = standing
  if (fault !== '') return { well: 'stop', says: fault }
  if (partner === null) return { well: 'good', says: '' }
  if (heard === null || heard > MISSING) {
    if (role === 'follows') return { well: 'stop', says: `${partner} is not heard` }
    return { well: 'stop', says: `${lift > 0 ? 'Took over; ' : ''}${partner} is not heard: no understudy` }
  }
  const top = output?.routes.some(({ to }) => to.protocol === 'sacn' && to.priority >= HIGHEST_PRIORITY)
  if (top)
    return {
      well: 'heed',
      says: 'sACN goes out at priority 200: an understudy cannot go above it. Set it to 199 or less',
    }
  const name = role === 'follows' ? `Follows ${partner}` : `${partner} follows`
  if (compared?.state === 'differs') return { well: 'stop', says: `${name}, but differs: ${compared.says}` }
  if (compared?.state === 'step' && ready) return { well: 'good', says: `${name}, in step` }
  return { well: 'heed', says: `${name}; cannot tell yet: ${compared?.says ?? 'nothing heard'}` }
}
