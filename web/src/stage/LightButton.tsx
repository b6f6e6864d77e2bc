// Lights a fixture while it is held: white, whatever the song writes, so that it can be found on the stage.

import { useEffect, useRef, useState } from 'react'
import { setLive } from '../live/desk.ts'
import { Sign } from '../ui/signs.tsx'

export const lightUp = (fixture: string): void => void setLive({ lit: [fixture] })
export const letGo = (): void => void setLive({ lit: [] })

export function LightButton({ fixture, name }: { fixture: string; name: string }) {
  const [isOn, setOn] = useState(false)
  const held = useRef(false)
  const begin = () => {
    if (held.current) return
    held.current = true
    setOn(true)
    lightUp(fixture)
  }
  const end = () => {
    if (!held.current) return
    held.current = false
    setOn(false)
    letGo()
  }
  useEffect(
    () => () => {
      if (held.current) letGo()
    },
    [],
  )
  return (
    <button
      type="button"
      className="tool"
      aria-label={`Light ${name}`}
      aria-pressed={isOn}
      title="Lights it while you hold"
      onPointerDown={event => event.button === 0 && begin()}
      onPointerUp={end}
      onPointerLeave={end}
      onPointerCancel={end}
      onBlur={end}
      onKeyDown={event => {
        if (event.key !== ' ' && event.key !== 'Enter') return
        event.preventDefault()
        begin()
      }}
      onKeyUp={end}
      onContextMenu={event => event.preventDefault()}
    >
      <Sign name="lamp" />
    </button>
  )
}
