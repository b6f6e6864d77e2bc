// The swatches that a repeating section replaces: from one of its source's to one of the show's.

import { lightOf, swatchesOf } from '@glowchart/shared/show/edits/light.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import type { Section } from '@glowchart/shared/show/song.ts'
import { useMemo } from 'react'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Sign } from '../ui/signs.tsx'

interface Props {
  show: Show
  viewed: ViewedSong
  id: string
  link: NonNullable<Section['sameAs']>
}

export function Replacements({ show, viewed, id, link }: Props) {
  const { song } = viewed
  const used = useMemo(() => {
    const lights = Object.values(song.sections[link.section]!.cues).map(cue =>
      lightOf(show, song.tracks[cue.track]!.part, cue),
    )
    return [...new Set(lights.flatMap(swatchesOf))]
  }, [show, song, link.section])
  const set = (swatches: Record<string, string>) =>
    edit('setLink', { song: viewed.id, section: id, swatches })
  const without = (from: string) =>
    Object.fromEntries(Object.entries(link.swatches).filter(([key]) => key !== from))
  const left = used.filter(swatch => link.swatches[swatch] === undefined)
  const all = Object.keys(show.swatches)
  return (
    <div className="replacements">
      {Object.entries(link.swatches).map(([from, to]) => (
        <div key={from} className="mark-row replaced">
          <Chip show={show} swatch={from} />
          <span aria-hidden="true">→</span>
          <Chip show={show} swatch={to} />
          <select
            aria-label={`${show.swatches[from]?.name ?? from} becomes`}
            value={to}
            onChange={event => set({ ...link.swatches, [from]: event.target.value })}
          >
            {all.map(swatch => (
              <option key={swatch} value={swatch}>
                {show.swatches[swatch]!.name}
              </option>
            ))}
          </select>
          <button
            type="button"
            className="tool"
            aria-label={`Keep ${show.swatches[from]?.name ?? from}`}
            onClick={() => set(without(from))}
          >
            <Sign name="cross" />
          </button>
        </div>
      ))}
      {left.length > 0 && (
        <select
          className="btn"
          aria-label="Replace a swatch"
          value=""
          onChange={event => {
            const from = event.target.value
            // Something else than it is, so that it can be seen at once.
            set({ ...link.swatches, [from]: all.find(swatch => swatch !== from) ?? from })
          }}
        >
          <option value="" disabled>
            Replace a swatch
          </option>
          {left.map(swatch => (
            <option key={swatch} value={swatch}>
              {show.swatches[swatch]?.name ?? swatch}
            </option>
          ))}
        </select>
      )}
    </div>
  )
}

const Chip = ({ show, swatch }: { show: Show; swatch: string }) => (
  <span className="chip">
    <i style={{ background: show.swatches[swatch]?.hex }} />
    {show.swatches[swatch]?.name ?? swatch}
  </span>
)
