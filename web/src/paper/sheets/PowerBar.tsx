// A box's currents on one line: solid is the brightest moment of the songs, hatch is everything on, the tick the limit.

import { ampsText } from '@glowchart/shared/paper/words.ts'
import type { BoxLoad } from '@glowchart/shared/power/box.ts'
import type { PaperContext } from '../context.ts'

const WIDTH = 120
const HEIGHT = 8

export function PowerBar({ load, context }: { load: BoxLoad; context: PaperContext }) {
  const { peaks, show } = context
  const peak = peaks?.[load.box]
  const most = Math.max(load.supply, load.amps)
  const at = (amps: number): number => 1 + ((WIDTH - 2) * Math.min(amps, most)) / most
  const solid = at(peak?.amps ?? 0)
  const end = at(load.amps)
  const hatch: string[] = []
  for (let x = solid + 2; x < end; x += 3.5) hatch.push(`M${x} ${HEIGHT - 1}L${Math.min(end, x + 3)} 1`)
  const limit = at(load.continuous)
  const isOver = peak !== undefined && peak.amps > load.continuous + 1e-6
  return (
    <p className="power">
      <svg width={WIDTH} height={HEIGHT + 4} viewBox={`0 -2 ${WIDTH} ${HEIGHT + 4}`} aria-hidden="true">
        <rect x=".5" y=".5" width={WIDTH - 1} height={HEIGHT - 1} fill="none" stroke="var(--bone-3)" />
        <rect x="1" y="1" width={solid - 1} height={HEIGHT - 2} fill="var(--bone-2)" />
        <path d={hatch.join('')} stroke="var(--bone-3)" strokeWidth=".9" />
        <path d={`M${limit} -2V${HEIGHT + 2}`} stroke="var(--bone)" strokeWidth="1.6" />
      </svg>
      <span>
        {peak ? (
          <>
            {isOver ? <b>Over: {ampsText(peak.amps)}</b> : ampsText(peak.amps)} of {ampsText(load.continuous)}
            , {show.songs[peak.song]?.title}, bar {peak.bar + 1}
          </>
        ) : (
          <>may give {ampsText(load.continuous)}</>
        )}
        ; everything on {ampsText(load.amps)}
      </span>
    </p>
  )
}
