// The swatches of the show: a change of one is seen in every cue and look that has it.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useMemo, useRef, useState } from 'react'
import { stopsOf } from '../cue/colour.ts'
import { edit } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { onEscape } from '../ui/escape.ts'
import { NameField } from '../ui/NameField.tsx'
import { Sign } from '../ui/signs.tsx'
import './look.css'

export function Swatches({ show }: { show: Show }) {
  const [leaving, setLeaving] = useState<string | null>(null)
  const uses = useMemo(() => countUses(show), [show])
  const swatches = Object.entries(show.swatches)
  const remove = (swatch: string, by?: string) => {
    setLeaving(null)
    void edit('deleteSwatch', { swatch, ...(by && { by }) })
  }
  return (
    <section className="panel swatch-list" aria-labelledby="swatches-title">
      <h2 id="swatches-title">Swatches</h2>
      <ul>
        {swatches.map(([id, { name, hex }]) => (
          <li key={id}>
            <ColourWell
              label={`Colour of ${name}`}
              hex={hex}
              onHex={next => edit('setSwatch', { swatch: id, hex: next })}
            />
            <NameField
              label={`Name of the swatch ${name}`}
              name={name}
              onName={next => edit('setSwatch', { swatch: id, name: next })}
            />
            <small>{usesText(uses.get(id) ?? 0)}</small>
            <button
              type="button"
              id={`delete-${id}`}
              className="tool"
              aria-label={`Delete ${name}`}
              aria-expanded={leaving === id}
              onClick={() => (uses.has(id) ? setLeaving(leaving === id ? null : id) : remove(id))}
            >
              <Sign name="cross" />
            </button>
            {leaving === id && (
              <label className="field">
                Its place is taken by
                <select
                  // biome-ignore lint/a11y/noAutofocus: the press before it asks what comes instead.
                  autoFocus
                  value=""
                  onChange={event =>
                    remove(id, event.target.value === 'own' ? undefined : event.target.value)
                  }
                  onKeyDown={onEscape(() => {
                    setLeaving(null)
                    document.getElementById(`delete-${id}`)?.focus()
                  })}
                >
                  <option value="" disabled>
                    Choose
                  </option>
                  <option value="own">{`${hex}, as each light’s own`}</option>
                  {swatches.map(([other, { name: title }]) =>
                    other === id ? null : (
                      <option key={other} value={other}>
                        {title}
                      </option>
                    ),
                  )}
                </select>
              </label>
            )}
          </li>
        ))}
      </ul>
      <button
        type="button"
        className="btn"
        onClick={() =>
          edit('addSwatch', {
            swatch: newId('swatch'),
            name: `Swatch ${swatches.length + 1}`,
            hex: '#ffd29a',
          })
        }
      >
        New swatch
      </button>
    </section>
  )
}

/** A colour to pick; one change when the picker is left, not one for every shade on the way. */
function ColourWell({ label, hex, onHex }: { label: string; hex: string; onHex: (hex: string) => unknown }) {
  const input = useRef<HTMLInputElement>(null)
  const latest = useRef(onHex)
  latest.current = onHex
  useEffect(() => {
    const element = input.current
    if (!element) return
    element.value = hex
    // React's onChange is the browser's `input`, which comes for every shade.
    const picked = () => element.value !== hex && latest.current(element.value)
    element.addEventListener('change', picked)
    return () => element.removeEventListener('change', picked)
  }, [hex])
  return <input ref={input} type="color" aria-label={label} defaultValue={hex} />
}

const usesText = (n: number): string => (n === 0 ? 'unused' : n === 1 ? 'one light' : `${n} lights`)

/** In how many lights, of cues and of looks, each swatch is. */
function countUses({ looks, songs }: Show): Map<string, number> {
  const uses = new Map<string, number>()
  const count = (light: Light) => {
    const used = stopsOf(light.colours).flatMap(({ colour }) => ('swatch' in colour ? [colour.swatch] : []))
    for (const id of new Set(used)) uses.set(id, (uses.get(id) ?? 0) + 1)
  }
  for (const look of Object.values(looks)) Object.values(look.parts).forEach(count)
  for (const song of Object.values(songs)) {
    for (const section of Object.values(song.sections)) {
      for (const { light } of Object.values(section.cues)) if (!('look' in light)) count(light)
    }
  }
  return uses
}
