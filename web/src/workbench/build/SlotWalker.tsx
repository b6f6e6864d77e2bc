// The slot walk on the page: one slot of an unknown fixture is raised on the wire, what is seen says what it does.

import { CodedError, type Problem } from '@glowchart/shared/errors.ts'
import { freeName, newBuild } from '@glowchart/shared/rig/build-new.ts'
import {
  answered,
  atSlot,
  begunWalk,
  channelsOfWalk,
  mostSlots,
  type Seen,
  seen,
  staying,
  type Walk,
  walkCheck,
} from '@glowchart/shared/rig/build-walk.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import { type Rig, type Shape, shapes } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useRef, useState } from 'react'
import { editTogether, type Told } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { useSession } from '../../document/session.ts'
import { holdCheck } from '../../live/desk.ts'
import { putOnBench } from '../chosen.ts'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'
import { shapeWords } from './words.ts'

/** Well within the time that a check stands for, ms. */
const EVERY = 500

const seenWords: Readonly<Record<Seen, string>> = {
  red: 'Red',
  green: 'Green',
  blue: 'Blue',
  white: 'White',
  brighter: 'Brighter',
  strobes: 'Strobes',
  moved: 'Moved',
  nothing: 'Nothing',
}

export function SlotWalker({ rig, show }: { rig: Rig; show: Show }) {
  const [universe, setUniverse] = useState(1)
  const [address, setAddress] = useState(1)
  const [walk, setWalk] = useState<Walk | null>(null)
  const kit = show.kits[show.tonight]
  const universes = kit ? [...new Set(patch(rig, kit).entries.map(entry => entry.universe))] : []
  const isSent = universes.includes(universe)
  const outputs = useSession(s => s.status?.outputs)
  const isRouted = outputs?.some(output => output.route.universe === universe) ?? false
  return (
    <article className="bench-panel walker" aria-labelledby="walk-title">
      <header>
        <h2 id="walk-title">Find out slot by slot</h2>
      </header>
      {walk ? (
        <Walking walk={walk} onWalk={setWalk} rig={rig} show={show} />
      ) : (
        <>
          <p className="says">
            For a fixture whose channels nobody knows. Set a start address on it, connect it, and look at it
            while its slots are raised one after the other. Everything else goes dark, and stays dark
            afterwards until the transport is pressed.
          </p>
          <div className="row">
            <Measure label="Universe" whole least={1} most={63999} value={universe} onChange={setUniverse} />
            <Measure label="Start address" whole least={1} most={512} value={address} onChange={setAddress} />
          </div>
          {!isSent && (
            <p className="says stop">
              Nothing of tonight’s kit is on universe {universe}, so it is not sent. Use{' '}
              {universes.length > 0 ? `universe ${universes.join(' or ')}` : 'the universe of a box'}, or put
              a box on universe {universe} first.
            </p>
          )}
          {isSent && !isRouted && (
            <p className="says heed">
              Universe {universe} goes to no node now: choose one under Output, on the chart. The walk begins
              all the same.
            </p>
          )}
          <button
            type="button"
            className="btn go"
            aria-disabled={!isSent}
            onClick={() => isSent && setWalk(begunWalk(universe, address))}
          >
            Raise the first slot
          </button>
          <p className="note">
            A slot may strobe or move the fixture: keep clear of a moving head, and warn who looks at it.
          </p>
        </>
      )}
    </article>
  )
}

interface WalkingProps {
  rig: Rig
  show: Show
  walk: Walk
  onWalk: (walk: Walk | null) => void
}

function Walking({ rig, show, walk, onWalk }: WalkingProps) {
  const problem = useHeld(walk)
  const [fault, setFault] = useState<Problem | null>(null)
  const [name, setName] = useState('Rented fixture')
  const [shape, setShape] = useState<Shape>('panel')
  const [stands, setStands] = useState(true)
  const number = walk.at + 1
  const before = walk.slots[walk.at]
  const heading = useRef<HTMLHeadingElement>(null)
  const keep = () => {
    try {
      const found = channelsOfWalk(walk)
      const build = newId('build')
      const value = {
        ...newBuild(shape, rig.builds),
        name: freeName(name.trim() || 'Rented fixture', rig.builds),
        ...found,
        draw: { from: 'measured' as const, amps: { red: 0, green: 0, blue: 0, white: 0 } },
        note: `Found out slot by slot at universe ${walk.universe}, address ${walk.address}.`,
      }
      const told: Told[] = [['setBuild', { build, value }]]
      if (stands) {
        const { universe, address } = walk
        const place = { x: 0, y: 1, z: 0 }
        const guest = { name: value.name, build, universe, address, place, turn: 0, trim: 1 }
        told.push(['setGuest', { kit: show.tonight, guest: newId('guest'), value: guest }])
      }
      void editTogether(`Build ${value.name}, found slot by slot`, told)
      putOnBench({ kind: 'build', id: build })
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      setFault(error.problem)
    }
  }
  const answer = (what: Seen) => {
    setFault(null)
    onWalk(answered(walk, what))
    heading.current?.focus()
  }
  return (
    <>
      <h3 ref={heading} tabIndex={-1} aria-live="polite">
        Slot {number}, address {walk.universe} / {walk.address + walk.at}
      </h3>
      <p className="fault" role="alert">
        {problem && `${problem.message}. ${problem.remedy}`}
      </p>
      <label className="field level">
        <span>Raised to {Math.round(walk.value * 255)} of 255</span>
        <input
          type="range"
          aria-label={`Level of slot ${number}`}
          min={0}
          max={255}
          value={Math.round(walk.value * 255)}
          onChange={event => onWalk({ ...walk, value: Number(event.target.value) / 255 })}
        />
      </label>
      <fieldset className="seen">
        <legend>What did you see?</legend>
        {seen.map(what => (
          <button
            key={what}
            type="button"
            className="btn"
            aria-pressed={before?.seen === what}
            onClick={() => answer(what)}
          >
            {seenWords[what]}
          </button>
        ))}
      </fieldset>
      <p className="note">
        Nothing at all? Its dimmer or shutter may come first: answer “Nothing”, let that slot stay up below,
        and walk on. Once a colour shows, go back and lower it to see what it does.
      </p>
      {walk.slots.length > 0 && (
        <ol className="walked" aria-label="Slots walked">
          {walk.slots.map((slot, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a slot is its number.
            <li key={i}>
              <button
                type="button"
                className="btn quiet"
                aria-current={i === walk.at ? 'step' : undefined}
                onClick={() => onWalk(atSlot(walk, i))}
              >
                <span className="score">{i + 1}</span> {seenWords[slot.seen]}
              </button>
              <label>
                <input
                  type="checkbox"
                  checked={slot.stays}
                  onChange={event => onWalk(staying(walk, i, event.target.checked))}
                />
                stays up<span className="sr">: slot {i + 1}</span>
              </label>
            </li>
          ))}
        </ol>
      )}
      <div className="row">
        <button
          type="button"
          className="btn outline"
          aria-disabled={walk.at >= Math.min(walk.slots.length, mostSlots(walk) - 1)}
          onClick={() => onWalk(atSlot(walk, walk.slots.length))}
        >
          On to slot {Math.min(walk.slots.length + 1, mostSlots(walk))}
        </button>
        <button type="button" className="btn outline" onClick={() => onWalk(null)}>
          End the walk
        </button>
      </div>
      <section className="group" aria-labelledby="walk-build-title">
        <h3 id="walk-build-title">All slots seen</h3>
        <div className="row">
          <label className="field">
            Name
            <input
              value={name}
              maxLength={76}
              autoComplete="off"
              onChange={event => setName(event.target.value)}
            />
          </label>
          <Pick
            label="Drawn as"
            value={shape}
            options={shapes.map(one => [one, shapeWords[one]])}
            onChange={setShape}
          />
        </div>
        <div className="row checks">
          <label>
            <input type="checkbox" checked={stands} onChange={event => setStands(event.target.checked)} />
            It stands on stage tonight, at {walk.universe} / {walk.address}
          </label>
        </div>
        <button type="button" className="btn go" onClick={keep}>
          Make it a build of {walk.slots.length === 1 ? '1 slot' : `${walk.slots.length} slots`}
        </button>
        <p className="fault" role="alert">
          {fault && `${fault.message}. ${fault.remedy}`}
        </p>
      </section>
    </>
  )
}

/** Holds the walk on the wire while it is open, and lets go of it after. Gives the last refusal. */
function useHeld(walk: Walk): Problem | null {
  const [problem, setProblem] = useState<Problem | null>(null)
  const latest = useRef(walk)
  latest.current = walk
  const tell = useRef(async () => {
    const answer = await holdCheck(walkCheck(latest.current))
    setProblem(answer.ok ? null : answer.problem)
  })
  // Every change is told at once; the beat only says that the page is still there.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above.
  useEffect(() => void tell.current(), [walk])
  useEffect(() => {
    const beat = setInterval(() => void tell.current(), EVERY)
    return () => {
      clearInterval(beat)
      void holdCheck(null)
    }
  }, [])
  return problem
}
