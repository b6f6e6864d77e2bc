// The motion: all twelve as small pictures of what they would do here, and what the chosen one is set by.

import { type Light, type Motion, motionKinds } from '@glowchart/shared/light/schema.ts'
import type { Ticks } from '@glowchart/shared/time/units.ts'
import { type KeyboardEvent, useMemo } from 'react'
import type { Rolls } from '../chart/roll/rolls.ts'
import type { Strand } from '../chart/rows.ts'
import { Figure } from '../ui/Figure.tsx'
import { Choose } from './Choose.tsx'
import type { ChangeLight } from './changing.ts'
import { shared } from './chosen.ts'
import { motionAs, motionWords, titled } from './motions.ts'
import { Picture } from './Picture.tsx'
import type { Pictures } from './pictures.ts'
import { countScale, rateScale, type Scale, seedScale, shareScale } from './values.ts'

interface Props {
  /** The cues' ids. */
  of: string
  lights: readonly Light[]
  bar: Ticks
  rolls: Rolls | null
  version: number
  pictures: Pictures
  strands: readonly Strand[]
  /** Of the column, px. */
  width?: number
  /** Some fixture has several cells. */
  hasCells: boolean
  onDraft: (change: ChangeLight) => void
  onChange: (what: string, change: ChangeLight) => void
}

/** Four tiles stand side by side, 6 px apart, each with 2 px at its sides. */
const tileOf = (width: number) => ({ width: Math.floor((width - 3 * 6) / 4) - 4, height: 20 })

export function MotionGroup(props: Props) {
  const {
    of,
    lights,
    bar,
    rolls,
    version,
    pictures,
    strands,
    hasCells,
    width = 282,
    onDraft,
    onChange,
  } = props
  const size = tileOf(width)
  const rows = useMemo(() => [strands], [strands])
  const rates = useMemo(() => rateScale(bar), [bar])
  const kind = shared(lights, light => light.motion.kind)
  const words = kind === null || kind === 'sustain' ? null : motionWords[kind]

  const onTileKey = (event: KeyboardEvent<HTMLElement>) => {
    const by = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: 4, ArrowUp: -4 }[event.key]
    if (by === undefined) return
    event.preventDefault()
    event.stopPropagation()
    const tiles = [...event.currentTarget.querySelectorAll('button')]
    const at = tiles.indexOf(document.activeElement as HTMLButtonElement)
    tiles[(at + by + tiles.length) % tiles.length]?.focus()
  }
  const set = (part: Partial<Motion>): ChangeLight => {
    return light => ({ ...light, motion: { ...light.motion, ...part } })
  }
  const value = <K extends keyof Motion>(key: K) => shared(lights, light => light.motion[key])
  const figure = <K extends 'rate' | 'spread' | 'duty' | 'shape' | 'floor' | 'seed'>(
    key: K,
    label: string,
    scale: Scale<Motion[K]>,
  ) => (
    <Figure
      key={key}
      {...scale}
      label={label}
      value={value(key)}
      onDraft={to => onDraft(set({ [key]: to }))}
      onChange={to => onChange(label, set({ [key]: to }))}
    />
  )
  return (
    <section className="cue-group" aria-labelledby="cue-motion">
      <h3 id="cue-motion">
        Motion <span className={kind === null ? 'mixed' : ''}>{kind === null ? 'mixed' : kind}</span>
      </h3>
      <div className="tiles" role="radiogroup" aria-labelledby="cue-motion" onKeyDown={onTileKey}>
        {motionKinds.map((tile, i) => (
          // biome-ignore lint/a11y/useSemanticElements: a picture with a name cannot be an input.
          <button
            key={tile}
            type="button"
            role="radio"
            aria-checked={tile === kind}
            data-reach={tile === (kind ?? motionKinds[0]) ? 'motion' : undefined}
            tabIndex={tile === (kind ?? motionKinds[0]) ? 0 : -1}
            onClick={() => onChange('Motion', light => ({ ...light, motion: motionAs(tile, light.motion) }))}
          >
            <Picture
              rolls={rolls}
              version={version}
              span={pictures.tiles[i]!}
              rows={rows}
              turn={i + 1}
              {...size}
            />
            {titled(tile)}
          </button>
        ))}
      </div>
      {words && (
        <div key={of} className="facts">
          {figure('rate', 'A cycle', rates)}
          {words.counts === null
            ? figure('spread', 'Apart', apartScale)
            : figure('spread', 'Spread', countScale(words.counts, 8))}
          {words.direction && (
            <Choose
              label="Runs"
              value={value('direction')}
              options={directions}
              onChange={direction => onChange('Direction', set({ direction }))}
            />
          )}
          {words.duty && figure('duty', words.duty, shareScale)}
          {words.shape && figure('shape', 'Softness', shareScale)}
          {figure('floor', 'Never under', shareScale)}
          {(hasCells || value('by') !== 'fixture') && (
            <Choose
              label="Moves by"
              value={value('by')}
              options={elements}
              onChange={by => onChange('Motion', set({ by }))}
            />
          )}
          {words.seed && figure('seed', 'Pattern', seedScale)}
        </div>
      )}
    </section>
  )
}

const directions = [
  ['forward', 'forward'],
  ['backward', 'backward'],
  ['outward', 'outward'],
  ['inward', 'inward'],
] as const
const elements = [
  ['fixture', 'fixture'],
  ['cell', 'cell'],
] as const

/** Spread above 1 changes nothing where it only says how far apart the fixtures are. */
const apartScale: Scale<number> = {
  ...shareScale,
  text: v => shareScale.text(Math.min(1, v)),
  step: (v, n) => shareScale.step(Math.min(1, v), n),
}
