// A pedal on MIDI: it does what the page says it will do, once a press, and lets go of what is held.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { createPedals } from '@glowchart/server/engine/pedals.ts'
import type { LivePatch, Transport } from '@glowchart/shared/messages.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { deedOf, type Situation } from '@glowchart/shared/trigger/deed.ts'
import { actionFor, fourButtons, type Input } from '@glowchart/shared/trigger/trigger.ts'
import { expect, it } from 'vitest'

const bundle = demoBundle()
const situation: Situation = {
  song: 'porchlight',
  look: null,
  place: 1,
  playing: true,
  position: 9 * 3840,
  loop: null,
  released: null,
  repeated: null,
  clock: { source: 'internal' },
  live: { strobeStop: false, bumps: {}, grand: 1, parts: {} },
}

function board(show: Show = bundle.show) {
  const done: (Transport | LivePatch)[] = []
  const heard: Input[] = []
  const pedals = createPedals({
    now: () => ({ show, situation }),
    press: transport => done.push(transport),
    setLive: live => done.push(live),
    touched: input => heard.push(input),
    sinceStart: () => 0,
  })
  return { done, heard, hear: (at: number, ...bytes: number[]) => pedals.hear({ port: 'Pedal', at, bytes }) }
}

it('does by default what the page says of its four buttons', () => {
  for (const [i, name] of (['back', 'stop', 'next'] as const).entries()) {
    const { done, hear } = board()
    hear(0, 0x9f, 60 + i, 100)
    expect(done).toEqual(deedOf({ do: name }, bundle.show, situation).presses)
    expect(done.length).toBe(1)
  }
})

it('is dark while the fourth is held, by note off or velocity 0', () => {
  const { done, hear } = board()
  hear(0, 0x9f, 63, 90)
  hear(400, 0x8f, 63, 0)
  hear(800, 0x9f, 63, 90)
  hear(1200, 0x9f, 63, 0)
  expect(done.map(live => (live as LivePatch).blackout)).toEqual([true, false, true, false])
})

it('acts once for a switch that bounces, and not at all for what is played on other channels', () => {
  const { done, heard, hear } = board()
  for (const at of [0, 8, 20]) hear(at, 0x9f, 62, 100, 0x8f, 62, 0)
  hear(500, 0x90, 62, 100)
  expect(done.length).toBe(1)
  // But all of it can be learned.
  expect(heard).toEqual([
    { from: 'note', channel: 16, note: 62 },
    { from: 'note', channel: 1, note: 62 },
  ])
})

it('takes notes, controllers, program changes and song selects as they were set', () => {
  const triggers = [
    { input: { from: 'control' as const, channel: null, control: 64 }, action: { do: 'next' as const } },
    {
      input: { from: 'program' as const, channel: 2, program: 7 },
      action: { do: 'song' as const, song: 'salt' },
    },
    { input: { from: 'songSelect' as const, song: 3 }, action: { do: 'house' as const } },
  ]
  const { show } = applyEdit(bundle, 'setTriggers', { triggers }).next
  const { done, hear } = board(show)
  hear(0, 0xb4, 64, 63)
  hear(10, 0xb4, 64, 127)
  hear(20, 0xb4, 64, 0)
  hear(200, 0xc1, 7)
  hear(300, 0xc2, 7)
  hear(400, 0xf3, 3)
  // The four buttons are no longer there.
  hear(500, 0x9f, 61, 100)
  expect(done.map(one => ('do' in one ? one.do : one))).toEqual(['loop', 'song', 'look'])
})

it('knows a message that is cut in two by the port', () => {
  const { done, hear } = board()
  hear(0, 0x9f)
  hear(1, 61, 0xf8, 100)
  expect(done).toEqual([{ do: 'stop' }])
})

it('gives an input that has no trigger nothing', () => {
  expect(actionFor(fourButtons, { from: 'key', key: 'q' })).toBeNull()
  expect(actionFor(fourButtons, { from: 'key', key: 'PageDown' })).toEqual({ do: 'next' })
})
