// The rig: the stage from above with boxes, lights and cables; the builds under it; power, patch and kits at the side.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Kit, Show } from '@glowchart/shared/show/schema.ts'
import { useDocument } from '../document/document.ts'
import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { type Tonight, useTonight } from '../document/viewed.ts'
import { Head } from '../Head.tsx'
import { Sign } from '../ui/signs.tsx'
import { BoxList } from './boxes/BoxList.tsx'
import { useCarried } from './carry.ts'
import { openSide, type SidePage, useRigChoice } from './choice.ts'
import { Kits } from './kits/Kits.tsx'
import { type LengthUnit, lengthText, useLengthUnit } from './length.ts'
import { PatchSheet } from './patch/PatchSheet.tsx'
import { Plan } from './plan/Plan.tsx'
import './rig.css'
import { Tray } from './tray/Tray.tsx'
import { universesText } from './words.ts'
import { useWorkLight } from './work-light.ts'

export default function RigPage() {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const tonight = useTonight()
  if (!rig || !show || !tonight) {
    return (
      <div className="rig-page waiting">
        <Head />
        <p>Waiting for Glowchart to answer on this machine.</p>
      </div>
    )
  }
  return <Rigged rig={rig} show={show} tonight={tonight} />
}

const sides: readonly (readonly [SidePage, string])[] = [
  ['boxes', 'Boxes'],
  ['patch', 'Patch sheet'],
  ['kits', 'Kits'],
]

function Rigged({ rig, show, tonight }: { rig: Rig; show: Show; tonight: Tonight }) {
  const { side, showsLengths } = useRigChoice()
  const unit = useLengthUnit()
  const [worksLit, lightWork] = useWorkLight(tonight.stage)
  const plays = useSession(s => s.status?.playing === true)
  const isDark = useSession(s => s.status?.check === 'dark')
  const { kit } = tonight
  return (
    <div className="rig-page">
      <header className="rig-head">
        <Head />
        <h1>
          Rig for tonight <small>{headText(rig, kit, unit)}</small>
        </h1>
        <div className="acts">
          {isDark && !worksLit && (
            <small>The lights stay dark after a check until the song is next started or moved.</small>
          )}
          <button
            type="button"
            className="btn"
            aria-pressed={worksLit}
            aria-disabled={plays && !worksLit}
            title={
              plays
                ? 'Stop the song first: it never darkens a show that plays'
                : 'All lights a little warm, to plug up by; it ends when you leave'
            }
            onClick={() => (worksLit || !plays) && lightWork(!worksLit)}
          >
            <Sign name="lamp" />
            Work light
          </button>
          <button
            type="button"
            className="btn"
            aria-pressed={showsLengths}
            onClick={() => useRigChoice.setState({ showsLengths: !showsLengths })}
          >
            <Sign name="cable" />
            Lengths
          </button>
          <button
            type="button"
            className="btn"
            aria-label={`Lengths in ${unit === 'metres' ? 'metres, press for feet' : 'feet, press for metres'}`}
            onClick={() => usePreferences.setState({ lengths: unit === 'metres' ? 'feet' : 'metres' })}
          >
            {unit === 'metres' ? 'm' : 'ft'}
          </button>
        </div>
      </header>
      <Plan rig={rig} show={show} tonight={tonight} />
      <Tray rig={rig} kit={kit} />
      <aside className="rig-side" aria-label="Boxes, patch and kits">
        <nav aria-label="Pages of the rig">
          {sides.map(([id, name]) => (
            <button
              key={id}
              type="button"
              className="btn quiet"
              aria-pressed={id === side}
              onClick={() => openSide(id)}
            >
              {name}
            </button>
          ))}
        </nav>
        {side === 'boxes' && <BoxList rig={rig} show={show} />}
        {side === 'patch' && <PatchSheet rig={rig} show={show} />}
        {side === 'kits' && <Kits rig={rig} show={show} stage={tonight.stage} />}
      </aside>
      <Ghost />
    </div>
  )
}

/** What is carried, at the pointer. */
function Ghost() {
  const carried = useCarried(s => s.carried)
  if (!carried) return null
  return (
    <span className="carried" style={{ left: carried.x, top: carried.y }} aria-hidden="true">
      {carried.name}
    </span>
  )
}

/** "Full stage, 9 by 5 m, 16 fixtures in 16 sockets, universe 1". */
function headText(rig: Rig, kit: Kit, unit: LengthUnit): string {
  const out = Object.entries(kit.boxes).filter(([id]) => rig.boxes[id])
  const sockets = out.reduce((sum, [id]) => sum + rig.boxes[id]!.sockets.length, 0)
  const lights = out.reduce((sum, [, box]) => sum + Object.keys(box.sockets).length, 0)
  const { width, depth } = kit.stage
  const size =
    unit === 'metres' ? `${width} by ${depth} m` : `${lengthText(width, unit)} by ${lengthText(depth, unit)}`
  const words = [kit.name, size, `${lights} ${lights === 1 ? 'fixture' : 'fixtures'} in ${sockets} sockets`]
  const guests = Object.keys(kit.guests).length
  if (guests > 0) words.push(`${guests} ${guests === 1 ? 'guest' : 'guests'}`)
  const universes = universesText(rig.boxes, kit)
  if (universes) words.push(universes)
  return words.join(', ')
}
