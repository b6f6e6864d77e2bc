// A plug turned in an unkeyed socket: which light each turn gives, worked out from the order of its contacts.

import type { Build } from './schema.ts'

type Contact = Build['contacts'][number]

export interface Turn {
  /** Contacts turned, clockwise as seen from the solder side; 0 is right. */
  readonly by: number
  /** What each output then drives: the colour that lights for it; null: nothing lights. */
  readonly drives: Readonly<Partial<Record<Contact, Contact>>>
  /** A raised output would stand across the supply. */
  readonly short: boolean
  /** In words: what is seen when red, green and blue are raised one after the other. */
  readonly says: string
}

/**
 * What every turn of a plug gives. The socket's common is at the supply's volts and its outputs pull to ground
 * (common positive). A plug whose common is not on the socket's stays dark: its common hangs on an output, and the
 * colour that the supply reaches instead is backwards for its LEDs. One common on the supply and another on an output
 * is a short circuit as soon as that output is raised.
 */
export function turnsOf(contacts: readonly Contact[]): Turn[] {
  return contacts.map((_, by) => {
    const plugAt = (i: number): Contact => contacts[(i + by) % contacts.length]!
    const isFed = contacts.some((contact, i) => contact === 'common' && plugAt(i) === 'common')
    const drives: Partial<Record<Contact, Contact>> = {}
    let short = false
    contacts.forEach((output, i) => {
      if (!isFed || output === 'common' || output === 'none') return
      const driven = plugAt(i)
      if (driven === 'common') short = true
      else if (driven !== 'none') drives[output] = driven
    })
    return { by, drives, short, says: saysOf(by, contacts.length, drives, short) }
  })
}

function saysOf(by: number, of: number, drives: Turn['drives'], short: boolean): string {
  const turn = by === 0 ? 'In right' : `Turned by ${by} of ${of}`
  if (short) return `${turn}: a short circuit; the fuse goes.`
  const pairs = Object.entries(drives)
  if (pairs.length === 0) return `${turn}: stays dark, its common is not on the supply.`
  const wrong = pairs.filter(([output, colour]) => output !== colour)
  if (wrong.length === 0) return `${turn}: every colour lights as it should.`
  return `${turn}: ${wrong.map(([output, colour]) => `${output} lights ${colour}`).join(', ')}.`
}
