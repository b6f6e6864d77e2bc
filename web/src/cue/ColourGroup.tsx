// The colours: stops of the light, the show's swatches to choose from, and red, green and blue of the one chosen.

import type { Colour, Light } from '@glowchart/shared/light/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type KeyboardEvent, useState } from 'react'
import { Figure } from '../ui/Figure.tsx'
import { Sign } from '../ui/signs.tsx'
import type { ChangeLight } from './changing.ts'
import { shared } from './chosen.ts'
import {
  type Along,
  bytesOf,
  hexOf,
  hexOfBytes,
  nameOf,
  type Stop,
  stopsOf,
  withAlong,
  withMoreStops,
  withoutStop,
  withStop,
} from './colour.ts'
import { byteScale, shareScale } from './values.ts'

interface Props {
  lights: readonly Light[]
  swatches: Show['swatches']
  /** The same as they are played where the cue was chosen: a copy of a section may replace some. */
  played?: Show['swatches']
  /** The name of that copy. */
  copy?: string
  onDraft: (change: ChangeLight) => void
  onChange: (what: string, change: ChangeLight) => void
  /** A swatch is one for the whole show. */
  onDraftSwatch: (swatch: string, hex: string) => void
  onSwatch: (swatch: string, hex: string) => void
  /** A swatch of the colour at hand, and the change that takes it for the colour. */
  onNewSwatch: (name: string, hex: string, put: (colour: Colour) => ChangeLight) => void
}

const ways: readonly (readonly [Along, string])[] = [
  ['none', 'one colour'],
  ['part', 'along the part'],
  ['time', 'over time'],
  ['motion', 'with the motion'],
]

export function ColourGroup(props: Props) {
  const {
    lights,
    swatches,
    played = swatches,
    copy,
    onDraft,
    onChange,
    onDraftSwatch,
    onSwatch,
    onNewSwatch,
  } = props
  const [picked, setPicked] = useState(0)
  const along = shared(lights, light => light.colours.along)
  const count = shared(lights, light => stopsOf(light.colours).length)
  const alike = along !== null && count !== null
  const wells = Array.from({ length: alike ? count : 1 }, (_, i) => ({
    key: `stop ${i + 1}`,
    stop: alike ? shared(lights, light => stopsOf(light.colours)[i]) : null,
    // Mixed colours begin from the first light's.
    first: stopsOf(lights[0]!.colours)[i]!,
  }))
  const i = Math.min(picked, wells.length - 1)
  const { stop, first } = wells[i]!
  const colour = stop?.colour ?? null
  const put = (part: Partial<Stop>): ChangeLight => {
    return light => withStop(alike || !part.colour ? light : withAlong(light, 'none', part.colour), i, part)
  }
  const swatch = colour && 'swatch' in colour ? colour.swatch : null
  const bytes = bytesOf(hexOf(colour ?? first.colour, swatches))
  const withByte = (c: number, to: number) => hexOfBytes(bytes.map((b, n) => (n === c ? to : b)))
  const names = Object.entries(swatches)
  const second = names.find(([id]) => !('swatch' in first.colour) || id !== first.colour.swatch)
  return (
    <section className="cue-group" aria-labelledby="cue-colour">
      <h3 id="cue-colour">
        Colour
        <select
          aria-label="Colours run"
          value={along ?? ''}
          onChange={event => {
            const other = second ? { swatch: second[0] } : { hex: '#ffffff' }
            onChange('Colours', light => withAlong(light, event.target.value as Along, other))
          }}
        >
          {along === null && (
            <option value="" disabled>
              mixed
            </option>
          )}
          {ways.map(([way, says]) => (
            <option key={way} value={way}>
              {says}
            </option>
          ))}
        </select>
      </h3>
      <div className="wells">
        {wells.map(({ key, stop: one }, n) => (
          <button
            key={key}
            type="button"
            className="well"
            aria-pressed={n === i}
            data-reach={n === i ? 'colour' : undefined}
            aria-label={`Colour ${n + 1}: ${one ? nameOf(one.colour, played) : 'mixed'}`}
            onClick={() => setPicked(n)}
            onKeyDown={onWellKey}
          >
            <i
              className={one ? '' : 'mixed'}
              style={one ? { background: hexOf(one.colour, played) } : undefined}
            />
            {wells.length < 3 && <span>{one ? nameOf(one.colour, played) : 'Mixed'}</span>}
          </button>
        ))}
        {alike && along !== 'none' && (
          <span className="more">
            <button
              type="button"
              className="tool"
              aria-label="Another colour in the gradient"
              onClick={() => {
                onChange('Colours', light => withMoreStops(light, i))
                setPicked(Math.min(i + 1, wells.length - 1))
              }}
            >
              <Sign name="plus" />
            </button>
            {wells.length > 2 && (
              <button
                type="button"
                className="tool"
                aria-label={`Take colour ${i + 1} out of the gradient`}
                onClick={() => onChange('Colours', light => withoutStop(light, i))}
              >
                <Sign name="dash" />
              </button>
            )}
          </span>
        )}
      </div>
      <fieldset className="swatches" onKeyDown={onSwatchKey}>
        <legend className="sr">Swatches</legend>
        {names.map(([id, { name, hex }], n) => (
          <button
            key={id}
            type="button"
            tabIndex={(swatch === null ? n === 0 : id === swatch) ? 0 : -1}
            aria-pressed={swatch === id}
            aria-label={name}
            title={name}
            style={{ background: hex }}
            onClick={() => onChange('Colour', put({ colour: { swatch: id } }))}
          />
        ))}
      </fieldset>
      <div className={wells.length > 2 ? 'hues four' : 'hues'}>
        {(['Red', 'Green', 'Blue'] as const).map((label, c) => (
          <div key={label} className={`hue ${label.toLowerCase()}`}>
            <Figure
              {...byteScale}
              label={label}
              short={label[0]!}
              value={colour ? bytes[c]! : null}
              first={bytes[c]!}
              onDraft={to =>
                swatch === null
                  ? onDraft(put({ colour: { hex: withByte(c, to) } }))
                  : onDraftSwatch(swatch, withByte(c, to))
              }
              onChange={to =>
                swatch === null
                  ? onChange('Colour', put({ colour: { hex: withByte(c, to) } }))
                  : onSwatch(swatch, withByte(c, to))
              }
            />
            <i style={{ width: `${colour ? (bytes[c]! / 255) * 100 : 0}%` }} />
          </div>
        ))}
        {wells.length > 2 && (
          <Figure
            {...shareScale}
            label="At, along the gradient"
            short="at"
            value={stop?.at ?? null}
            first={first.at}
            onDraft={at => onDraft(put({ at }))}
            onChange={at => onChange('Colours', put({ at }))}
          />
        )}
      </div>
      {colour && swatch === null && (
        <NewSwatch
          key={i}
          onName={name => onNewSwatch(name, hexOf(colour, swatches), next => put({ colour: next }))}
        />
      )}
      {swatch !== null && played[swatch] !== swatches[swatch] && (
        <p className="note">
          {copy} plays {played[swatch]?.name} here for {swatches[swatch]?.name}.
        </p>
      )}
      {swatch !== null && (
        <p className="note">
          Changes {swatches[swatch]?.name} in every cue.{' '}
          <button
            type="button"
            className="word"
            onClick={() => onChange('Colour', put({ colour: { hex: hexOf(colour!, swatches) } }))}
          >
            Only here
          </button>
        </p>
      )}
    </section>
  )
}

/** Down from a colour there are the swatches it may be. */
function onWellKey(event: KeyboardEvent<HTMLElement>): void {
  if (event.key !== 'ArrowDown') return
  event.preventDefault()
  event.stopPropagation()
  const swatches = event.currentTarget.closest('.cue-group')?.querySelector('.swatches [tabindex="0"]')
  if (swatches instanceof HTMLElement) swatches.focus()
}

/** The swatches are one stop of the Tab key; the arrows go from one to the next. */
function onSwatchKey(event: KeyboardEvent<HTMLElement>): void {
  const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key]
  if (by === undefined) return
  event.preventDefault()
  event.stopPropagation()
  const all = [...event.currentTarget.querySelectorAll('button')]
  const at = all.indexOf(document.activeElement as HTMLButtonElement)
  all[(at + by + all.length) % all.length]?.focus()
}

/** A colour of the cue's own may become the show's, under a name. */
function NewSwatch({ onName }: { onName: (name: string) => void }) {
  const [name, setName] = useState<string | null>(null)
  if (name === null)
    return (
      <p className="note">
        <button type="button" className="word" onClick={() => setName('')}>
          Make a swatch of this colour
        </button>
      </p>
    )
  return (
    <form
      className="note"
      onSubmit={event => {
        event.preventDefault()
        if (name.trim()) onName(name.trim())
      }}
    >
      <input
        // biome-ignore lint/a11y/noAutofocus: the press before it asked for a name.
        autoFocus
        className="text"
        aria-label="Name of the swatch"
        placeholder="Name it, and press Enter"
        maxLength={80}
        value={name}
        onChange={event => setName(event.target.value)}
        onKeyDown={event => event.key === 'Escape' && setName(null)}
        onBlur={() => setName(null)}
      />
    </form>
  )
}
