// Work light: every light of the kit a little warm, for plugging up in the dark, held on the wire as a line check is.

import { CHECK_LASTS, type Check } from '@glowchart/shared/render/check.ts'
import type { Stage } from '@glowchart/shared/rig/stage.ts'
import { useEffect, useRef, useState } from 'react'
import { say } from '../document/session.ts'
import { holdCheck } from '../live/desk.ts'

/** 15 % as it is sent, towards a lamp's colour: enough to read a label by, and far under any supply's limit. */
const WARM = { red: 0.15, green: 0.08, blue: 0.03, white: 0.15 }

/** It is told again so often, ms: three times within the time that it stands for. */
const BEAT = CHECK_LASTS / 3

const checkOf = (stage: Stage): Check => ({
  lights: Object.fromEntries(stage.fixtures.map(f => [f.id, WARM])),
  others: 0,
  slots: [],
})

/** Whether it is on, and what switches it. It ends when the page is left. */
export function useWorkLight(
  stage: Stage | undefined,
): readonly [isOn: boolean, switchTo: (on: boolean) => void] {
  const [isOn, setOn] = useState(false)
  const latest = useRef(stage)
  latest.current = stage
  useEffect(() => {
    if (!isOn) return
    let wanted = true
    const beat = async () => {
      const answer = await holdCheck(latest.current ? checkOf(latest.current) : null)
      if (wanted && !answer.ok) setOn(false)
    }
    void beat()
    const timer = setInterval(beat, BEAT)
    return () => {
      wanted = false
      clearInterval(timer)
      void holdCheck(null)
    }
  }, [isOn])
  return [
    isOn,
    on => {
      setOn(on)
      say(on ? 'Work light on.' : 'Work light off. The lights are dark until the song is next started.')
    },
  ]
}
