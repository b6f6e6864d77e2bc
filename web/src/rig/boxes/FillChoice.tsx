// What can be put into a free socket: each build with its spares; the next free socket is chosen after it.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import { nextOf, stockOf } from '@glowchart/shared/rig/spares.ts'
import type { Kit } from '@glowchart/shared/show/schema.ts'
import { BuildSign } from '../tray/BuildSign.tsx'
import { fillSocket, fillWithNew } from '../tray/filling.ts'

interface Props {
  rig: Rig
  kit: Kit
  box: string
  socket: string
}

export function FillChoice({ rig, kit, box, socket }: Props) {
  return (
    <div className="row fill">
      {Object.entries(rig.builds).map(([build, { name, shape }]) => {
        const [spare] = stockOf(rig, kit, build).spare
        const fixture = spare === undefined ? nextOf(rig, build) : rig.fixtures[spare]!
        const says = spare === undefined ? `new ${fixture.name}` : fixture.name
        return (
          <button
            key={build}
            type="button"
            data-build={build}
            className="btn"
            aria-label={`${name}: ${says}`}
            onClick={() => {
              ;(spare === undefined ? fillWithNew : fillSocket)({ build, box, socket })
              focusNext(build)
            }}
          >
            <BuildSign shape={shape} />
            {says}
          </button>
        )
      })}
    </div>
  )
}

/** The way goes on from where it was left: the same build for the next free socket, or the socket that was filled last. */
function focusNext(build: string): void {
  requestAnimationFrame(() => {
    const next = document.querySelector<HTMLElement>(`.sockets .fill [data-build="${build}"]`)
    ;(next ?? document.querySelector<HTMLElement>('.sockets tr.chosen button'))?.focus()
  })
}
