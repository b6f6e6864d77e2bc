// Keys that do what no button in sight does: hands on the keyboard, guarded; and a pedal that types keys, not guarded.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { type Action, MASTER_STEP } from '@glowchart/shared/trigger/action.ts'
import { fourButtons, type Trigger } from '@glowchart/shared/trigger/trigger.ts'
import { useEffect, useMemo } from 'react'
import { act } from './act.ts'
import { useHold } from './hold.ts'
import { onRunKey } from './keys.ts'

const handKeys: readonly (readonly [string, Action])[] = [
  ['r', { do: 'repeat' }],
  ['h', { do: 'house' }],
  ['x', { do: 'strobeStop' }],
  ['[', { do: 'sectionBack' }],
  [']', { do: 'sectionOn' }],
  [',', { do: 'songBack' }],
  ['.', { do: 'songOn' }],
  ['ArrowUp', { do: 'master', by: MASTER_STEP }],
  ['ArrowDown', { do: 'master', by: -MASTER_STEP }],
]

/** Taps and nudges must come in time, and do little each: they are not guarded. */
const tempoKeys: readonly (readonly [string, Action])[] = [
  ['t', { do: 'tapTempo' }],
  ['ArrowLeft', { do: 'nudgeBack' }],
  ['ArrowRight', { do: 'nudgeOn' }],
]

/** Keys that a pedal types: nobody brushes a pedal by hand. */
const pedalKeysOf = (triggers: readonly Trigger[]): [string, Action][] =>
  triggers.flatMap(({ input, action }) => (input.from === 'key' ? [[input.key, action]] : []))

/** Parts that have a digit. */
const DIGITS = 9

export function KeyHands({ show: { partOrder, triggers } }: { show: Show }) {
  const pedalKeys = useMemo(() => pedalKeysOf(triggers ?? fourButtons), [triggers])
  const bumps = useMemo(
    () =>
      partOrder.slice(0, DIGITS).map((part, i): [string, Action] => [String(i + 1), { do: 'bump', part }]),
    [partOrder],
  )
  return (
    <>
      {[...handKeys, ...bumps].map(([key, action]) => (
        <KeyHand key={key} hotkey={key} action={action} guarded />
      ))}
      {tempoKeys.map(([key, action]) => (
        <KeyHand key={key} hotkey={key} action={action} guarded={false} />
      ))}
      {pedalKeys.map(([key, action]) => (
        <KeyHand key={key} hotkey={key} action={action} guarded={false} />
      ))}
    </>
  )
}

function KeyHand({ hotkey, action, guarded }: { hotkey: string; action: Action; guarded: boolean }) {
  const { down, up } = useHold(() => act(action), guarded)
  useEffect(() => onRunKey(hotkey, { down, up }), [hotkey, down, up])
  return null
}
