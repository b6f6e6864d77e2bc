// The page: one place of it. The chart has the stage across the top, songs at its side, transport along the foot.

import { lazy, Suspense } from 'react'
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
import { KeyList } from './ui/KeyList.tsx'

/** The other places, by id. */
const pages = Object.fromEntries(places.map(({ id, load }) => [id, lazy(load)]))

export function App() {
  const place = usePlace()
  const said = useSession(s => s.said)
  const isStranger = useSession(s => s.isStranger)
  const Page = pages[place]
  if (isStranger) return <JoinPage />
  return (
    <>
      {Page ? (
        <main className="whole" data-place={place}>
          <Suspense>
            <Page />
          </Suspense>
        </main>
      ) : (
        <ChartPlace />
      )}
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
  return (
    <>
      <header className="house">
        {rig && tonight && <Stage rig={rig} tonight={tonight} />}
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
