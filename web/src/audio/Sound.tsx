// What this page plays with a song: one button in the transport, and over it score, click and count-in.

import { type CSSProperties, useId, useRef, useState } from 'react'
import { setSound, usePreferences } from '../document/preferences.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { ClockOut, ClockPort } from '../transport/ClockPort.tsx'
import { Tap } from '../transport/Tap.tsx'
import { Sign } from '../ui/signs.tsx'
import { DeviceChoice } from './DeviceChoice.tsx'
import './sound.css'
import { hasScore } from './sound.ts'

export function Sound({ viewed }: { viewed: ViewedSong }) {
  const sound = usePreferences(s => s.sound)
  const button = useRef<HTMLButtonElement>(null)
  const panel = useRef<HTMLDivElement>(null)
  const [isOpen, setOpen] = useState(false)
  const id = useId()
  const scored = hasScore(viewed.song)
  const on = [sound.score && scored && 'score', sound.click && 'click'].filter(Boolean)
  const says =
    (on.join(' and ') || 'off') + (sound.countIn > 0 ? `, counted in ${barsOf(sound.countIn)}` : '')
  return (
    <>
      <button
        ref={button}
        type="button"
        className="move sound"
        popoverTarget={id}
        aria-label={`Sound: ${says}`}
        title={`Sound: ${says}`}
        aria-haspopup="dialog"
        aria-expanded={isOpen}
      >
        <Sign name={on.length > 0 ? 'sound' : 'silent'} />
      </button>
      <div
        ref={panel}
        id={id}
        popover="auto"
        // Pressed on its ground it keeps the focus, which goes back to the button when it closes.
        tabIndex={-1}
        role="dialog"
        aria-label="Sound"
        className="sound-panel"
        onBeforeToggle={() => place(button.current, panel.current)}
        onToggle={e => setOpen(e.newState === 'open')}
        // The keys of the page rest in here; Escape closes and does no more.
        onKeyDown={e => e.stopPropagation()}
      >
        <Voice
          name="Score"
          on={sound.score}
          level={sound.scoreLevel}
          without={scored ? null : missing(viewed)}
          onChange={(score, scoreLevel) => setSound({ score, scoreLevel })}
        />
        <Voice
          name="Click"
          on={sound.click}
          level={sound.clickLevel}
          without={null}
          onChange={(click, clickLevel) => setSound({ click, clickLevel })}
        />
        <fieldset className="count-in">
          <legend>Count-in</legend>
          {([0, 1, 2] as const).map(bars => (
            <label key={bars}>
              <input
                type="radio"
                name={`${id}-count`}
                checked={sound.countIn === bars}
                onChange={() => setSound({ countIn: bars })}
              />
              {barsOf(bars)}
            </label>
          ))}
        </fieldset>
        <Tap />
        <fieldset className="gig">
          <legend>At the gig</legend>
          <DeviceChoice />
          <ClockPort />
          <ClockOut />
        </fieldset>
      </div>
    </>
  )
}

interface VoiceProps {
  name: string
  on: boolean
  level: number
  /** Why there is nothing to play. */
  without: string | null
  onChange: (on: boolean, level: number) => void
}

function Voice({ name, on, level, without, onChange }: VoiceProps) {
  const percent = Math.round(level * 100)
  return (
    <div className="voice">
      <label>
        <input type="checkbox" checked={on} onChange={e => onChange(e.target.checked, level)} />
        {name}
      </label>
      <input
        type="range"
        min="0"
        max="100"
        aria-label={`${name} level`}
        value={percent}
        style={{ '--at': `${percent}%` } as CSSProperties}
        onChange={e => onChange(on, Number(e.target.value) / 100)}
      />
      <output>{percent}</output>
      {without && <p>{without}</p>}
    </div>
  )
}

const barsOf = (bars: number): string => (bars === 0 ? 'None' : bars === 1 ? '1 bar' : `${bars} bars`)

const missing = ({ song }: ViewedSong): string =>
  song.audio
    ? 'This song brings no score.'
    : 'This song brings no score and no recording: only the click sounds.'

/** Over its button, and inside the page. */
function place(button: HTMLElement | null, panel: HTMLElement | null): void {
  if (!button || !panel) return
  const { left, top } = button.getBoundingClientRect()
  panel.style.left = `${Math.max(8, Math.min(left, window.innerWidth - 324))}px`
  panel.style.bottom = `${window.innerHeight - top + 8}px`
}
