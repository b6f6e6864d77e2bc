// A pedal on MIDI: it does what the page says it will do, once a press, and lets go of what is held.

import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { createPedals } from '@glowchart/server/engine/pedals.ts'
import type { Transport } from '@glowchart/shared/messages.ts'
import { freshLive, type LivePatch, patchedLive } from '@glowchart/shared/render/live.ts'
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
  live: { strobeStop: false, grand: 1, parts: {} },
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

it('loses no press and no letting go of two that come before the engine has told of the first', () => {
  const [first, second] = bundle.show.partOrder as [string, string]
  const triggers = [
    ...[first, second].map((part, i) => ({
      input: { from: 'note' as const, channel: 1, note: 40 + i },
      action: { do: 'bump' as const, part },
    })),
    {
      input: { from: 'control' as const, channel: null, control: 64 },
      action: { do: 'master' as const, by: -0.1 },
    },
    {
      input: { from: 'control' as const, channel: null, control: 65 },
      action: { do: 'master' as const, by: -0.1, part: first },
    },
  ]
  const { show } = applyEdit(bundle, 'setTriggers', { triggers }).next
  // `situation` stays as it was: no word of the engine comes between.
  const { done, hear } = board(show)
  const live = () => done.reduce((stands, patch) => patchedLive(stands, patch as LivePatch), freshLive())
  hear(0, 0x90, 40, 100, 0x90, 41, 100)
  expect(live().bumps).toEqual({ [first]: 1, [second]: 1 })
  hear(5, 0x80, 40, 0)
  expect(live().bumps).toEqual({ [second]: 1 })
  hear(10, 0x80, 41, 0)
  expect(live().bumps).toEqual({})
  for (const at of [100, 170]) hear(at, 0xb0, 64, 127, 64, 0, 65, 127, 65, 0)
  expect(live()).toMatchObject({ grand: 0.8, parts: { [first]: 0.8 } })
  // Another band: nothing that hands did to the parts lies on it.
  expect(patchedLive(live(), { parts: null, bumps: null })).toEqual({ ...freshLive(), grand: 0.8 })
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
