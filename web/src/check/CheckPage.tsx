// The line check: socket by socket, channel by channel, on the real wire; for a laptop, and a phone in one hand.

import { freshRun } from '@glowchart/shared/check/run.ts'
import { useEffect, useState } from 'react'
import { Editable } from '../access/Editable.tsx'
import { useDocument } from '../document/document.ts'
import { useTonight } from '../document/viewed.ts'
import { Head } from '../Head.tsx'
import { usePlayed } from '../version/running.ts'
import { ChangeoverList } from './ChangeoverList.tsx'
import { groupsNow, holdNow, press, stopsOf, takeUpEarlier, useChecking } from './checking.ts'
import { FaultPanel } from './FaultPanel.tsx'
import { listenToCheckKeys, onward } from './keys.ts'
import { LightPanel } from './LightPanel.tsx'
import { Ready } from './Ready.tsx'
import { See } from './See.tsx'
import { Strip } from './Strip.tsx'
import { useSwipe } from './swipe.ts'
import { TimeBar } from './TimeBar.tsx'
import { Wire } from './Wire.tsx'
import { hold } from './wire.ts'
import './check.css'
import './picture.css'
import './strip.css'
import './light.css'
import './fault.css'
import './changeover.css'

/** How often the machine is told the time, ms. */
const TICK = 100

export default function CheckPage() {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const tonight = useTonight()
  // The frames that come are of what plays, which has its own patch.
  const played = usePlayed()
  const run = useChecking(s => s.run)
  const [listed, setListed] = useState(false)
  const swipe = useSwipe(
    () => run.mode === 'checking' && onward(),
    () => press({ do: 'fail' }),
  )

  useEffect(() => {
    const stop = listenToCheckKeys()
    const ticking = setInterval(() => press({ do: 'tick' }), TICK)
    return () => {
      stop()
      clearInterval(ticking)
      // The place is left: the lights go dark, and what was checked is kept.
      useChecking.setState(({ run }) => ({
        run: { ...freshRun, verdicts: run.verdicts, auto: run.auto },
        answers: [],
        mended: null,
      }))
      hold(null)
    }
  }, [])

  // What is plugged where has changed under the check: the same light may have other slots now.
  const kit = tonight?.kit
  // biome-ignore lint/correctness/useExhaustiveDependencies: the documents are read where they are held.
  useEffect(() => {
    takeUpEarlier()
    holdNow()
  }, [rig, kit])

  if (!rig || !show || !tonight || !played)
    return <p className="check-waits">Waiting for Glowchart to answer.</p>
  const groups = groupsNow(rig, tonight.kit)
  const stops = stopsOf(groups)
  return (
    <div className="check" data-mode={run.mode}>
      <Head />
      <TimeBar run={run} stops={stops} listed={listed} onList={() => setListed(!listed)} />
      <section className="see" aria-label="Where it is" {...swipe}>
        <See rig={played.rig} tonight={played.tonight} run={run} groups={groups} />
        <Wire />
      </section>
      <Editable>
        <Strip groups={groups} run={run} />
      </Editable>
      <section className="do" aria-label="What to do" {...swipe}>
        <Editable>
          {listed ? (
            <ChangeoverList rig={rig} groups={groups} onClose={() => setListed(false)} />
          ) : run.mode === 'checking' || run.mode === 'halted' ? (
            <LightPanel groups={groups} run={run} rig={rig} />
          ) : run.mode === 'asking' ? (
            <FaultPanel groups={groups} run={run} rig={rig} />
          ) : (
            <Ready rig={rig} groups={groups} stops={stops} run={run} />
          )}
        </Editable>
      </section>
    </div>
  )
}
