// What a plug turned in an unkeyed socket gives, by its circuit: common positive, outputs that pull to ground.

import { turnsOf } from '@glowchart/shared/rig/contacts.ts'
import { expect, it } from 'vitest'

it('of the four turns of a four-contact head only the right one lights', () => {
  const turns = turnsOf(['common', 'red', 'green', 'blue'])
  expect(turns.map(turn => Object.keys(turn.drives).length)).toEqual([3, 0, 0, 0])
  expect(turns[0]!.says).toBe('In right: every colour lights as it should.')
  expect(turns[2]!.says).toBe('Turned by 2 of 4: stays dark, its common is not on the supply.')
})

it('a plug with two commons opposite each other lights turned by half, with colours exchanged', () => {
  const turns = turnsOf(['common', 'red', 'green', 'common', 'blue', 'white'])
  expect(turns[3]!.drives).toEqual({ red: 'blue', green: 'white', blue: 'red', white: 'green' })
  expect(turns[3]!.says).toBe(
    'Turned by 3 of 6: red lights blue, green lights white, blue lights red, white lights green.',
  )
})

it('a common on the supply and another on an output is named a short circuit', () => {
  const turns = turnsOf(['common', 'common', 'red', 'green'])
  expect(turns.map(turn => turn.short)).toEqual([false, true, false, true])
  expect(turns[1]!.says).toBe('Turned by 1 of 4: a short circuit; the fuse goes.')
})
