// More of what hands can do: jump to a section, repeat it, the house look, strobes, and the parts' bumps and masters.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Action } from '@glowchart/shared/trigger/action.ts'
import { useEffect, useMemo, useRef } from 'react'
import { DeviceChoice } from '../audio/DeviceChoice.tsx'
import { SoundHere } from '../audio/SoundHere.tsx'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { setLive } from '../live/desk.ts'
import { ClockOut, ClockPort } from '../transport/ClockPort.tsx'
import { Master } from '../transport/Master.tsx'
import { act, useDeed } from './act.ts'
import { BoxHands } from './BoxHands.tsx'
import { HoldButton } from './HoldButton.tsx'
import { PartnerHands } from './PartnerHands.tsx'
import { VersionHands } from './VersionHands.tsx'

const REPEAT: Action = { do: 'repeat' }
const HOUSE: Action = { do: 'house' }
const STROBES: Action = { do: 'strobeStop' }
const TAP: Action = { do: 'tapTempo' }
const NUDGE_BACK: Action = { do: 'nudgeBack' }
const NUDGE_ON: Action = { do: 'nudgeOn' }

export function More({ show, standing }: { show: Show; standing: ViewedSong | null }) {
  const section = useRef<HTMLElement>(null)
  // On a phone it stands under what is in sight.
  useEffect(() => {
    section.current?.scrollIntoView({ block: 'start' })
  }, [])
  return (
    <section className="more" aria-label="More" ref={section}>
      <div className="acts">
        <ActButton action={REPEAT} />
        <ActButton action={HOUSE} />
        <ActButton action={STROBES} />
      </div>
      <h2>Tempo</h2>
      <div className="acts tempo-acts">
        <ActButton action={TAP} guarded={false} />
        <ActButton action={NUDGE_BACK} guarded={false} />
        <ActButton action={NUDGE_ON} guarded={false} />
      </div>
      {standing && <Sections standing={standing} />}
      <Parts show={show} />
      <BoxHands />
      <h2>Sound and clock</h2>
      <div className="gig">
        <SoundHere />
        <DeviceChoice />
        <ClockPort />
        <ClockOut />
      </div>
      <VersionHands />
      <PartnerHands />
    </section>
  )
}

function ActButton({ action, guarded = true }: { action: Action; guarded?: boolean }) {
  const deed = useDeed(action)
  return (
    <HoldButton
      idle={!deed || (deed.presses.length === 0 && !deed.live)}
      guarded={guarded}
      fire={() => act(action)}
    >
      <b>{deed?.says}</b>
      {deed?.more && <small>{deed.more}</small>}
    </HoldButton>
  )
}

function Sections({ standing }: { standing: ViewedSong }) {
  return (
    <>
      <h2>Jump to</h2>
      <ol className="jumps">
        {standing.timeline.sections.map(({ id, mark, firstBar }) => (
          <li key={id}>
            <HoldButton fire={() => act({ do: 'section', section: id })}>
              <span className="mark">{mark}</span>
              <b>{standing.song.sections[id]!.name}</b>
              <small>{firstBar + 1}</small>
            </HoldButton>
          </li>
        ))}
      </ol>
    </>
  )
}

function Parts({ show }: { show: Show }) {
  const masters = useSession(s => s.status?.live.parts)
  const bumps = useSession(s => s.status?.live.bumps)
  return (
    <>
      <h2>Parts</h2>
      <ul className="part-hands">
        {show.partOrder.map(part => (
          <li key={part}>
            <Bump part={part} name={show.parts[part]!.name} held={bumps?.[part] !== undefined} />
            <Master
              name={show.parts[part]!.name}
              relative
              told={masters?.[part] ?? 1}
              onChange={value => void setLive({ parts: { [part]: value } })}
            />
          </li>
        ))}
      </ul>
    </>
  )
}

function Bump({ part, name, held }: { part: string; name: string; held: boolean }) {
  const action = useMemo((): Action => ({ do: 'bump', part }), [part])
  return (
    <HoldButton className="part-bump" label={`Bump ${name}`} pressed={held} fire={() => act(action)}>
      Bump
    </HoldButton>
  )
}
