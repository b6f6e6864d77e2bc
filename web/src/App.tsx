// The page: one place of it. The chart has the stage across the top, songs at its side, transport along the foot.

import { type ComponentType, lazy, Suspense, useState } from 'react'
import { JoinPage } from './access/JoinPage.tsx'
import { Chart } from './chart/Chart.tsx'
import { useDocument } from './document/document.ts'
import { useSession } from './document/session.ts'
import { useTonight, useViewedSong } from './document/viewed.ts'
import { EmptyChart } from './intake/EmptyChart.tsx'
import { places, usePlace } from './places.ts'
import { LeftOff } from './recovery/LeftOff.tsx'
import { Side } from './Side.tsx'
import { LandingChoice } from './section/LandingChoice.tsx'
import { Title } from './songs/Title.tsx'
import { Stage } from './stage/Stage.tsx'
import { Transport } from './transport/Transport.tsx'
import './ui/page.css'
import { Fault } from './ui/Fault.tsx'
import { KeyList } from './ui/KeyList.tsx'
import { usePlayed } from './version/running.ts'

/** The other places that were opened, by id. */
const pages = new Map<string, ComponentType>()

function pageOf(place: string): ComponentType | undefined {
  const found = places.find(({ id }) => id === place)
  if (found && !pages.has(place)) pages.set(place, lazy(found.load))
  return pages.get(place)
}

export function App() {
  const place = usePlace()
  const said = useSession(s => s.said)
  const isStranger = useSession(s => s.isStranger)
  const [, setTries] = useState(0)
  const Page = pageOf(place)
  const again = () => {
    pages.delete(place)
    setTries(tries => tries + 1)
  }
  if (isStranger) return <JoinPage />
  return (
    <>
      <Fault key={place} onAgain={again}>
        {Page ? (
          <main className="whole" data-place={place}>
            <Suspense>
              <Page />
            </Suspense>
          </main>
        ) : (
          <ChartPlace />
        )}
      </Fault>
      <LeftOff />
      <KeyList />
      <p className="sr" aria-live="polite">
        {said}
      </p>
    </>
  )
}

function ChartPlace() {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const viewed = useViewedSong()
  const tonight = useTonight()
  // The frames that come are of what plays, which has its own patch.
  const played = usePlayed()
  return (
    <>
      <header className="house">
        {played && <Stage rig={played.rig} tonight={played.tonight} />}
        <Title show={show} viewed={viewed} />
      </header>
      <main id="chart">
        {rig && show && tonight && viewed ? (
          <Chart rig={rig} show={show} tonight={tonight} viewed={viewed} />
        ) : show ? (
          <EmptyChart />
        ) : (
          <Blank />
        )}
      </main>
      {rig && show && <Side {...{ rig, show, tonight, viewed }} />}
      <Transport viewed={viewed} />
      {show && viewed && <LandingChoice show={show} viewed={viewed} />}
    </>
  )
}

/** Plain staff paper: there is nothing to draw yet. */
function Blank() {
  return (
    <section className="chart blank" aria-label="Chart">
      <p>Waiting for Glowchart to answer on this machine.</p>
      {[1, 0.8, 0.6, 0.4, 0.25].map(opacity => (
        <div key={opacity} className="staff" style={{ opacity }} />
      ))}
    </section>
  )
}
