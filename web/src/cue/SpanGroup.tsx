// The cue on the chart: level, length, fades, and how its track merges over those above it.

import type { Light } from '@glowchart/shared/light/schema.ts'
import type { Curve, Fade, Track } from '@glowchart/shared/show/song.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { edit, editTogether, type Told } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { LevelFacts } from '../level/LevelFacts.tsx'
import { levelled, peakOf } from '../level/points.ts'
import { Figure } from '../ui/Figure.tsx'
import { Choose } from './Choose.tsx'
import type { ChangeLight } from './changing.ts'
import { type Chosen, shared } from './chosen.ts'
import { shareScale, spanScale } from './values.ts'

interface Props {
  viewed: ViewedSong
  chosen: readonly Chosen[]
  lights: readonly Light[]
  bar: Ticks
  beat: Ticks
  onDraft: (change: ChangeLight) => void
  onChange: (what: string, change: ChangeLight) => void
}

export function SpanGroup({ viewed, chosen, lights, bar, beat, onDraft, onChange }: Props) {
  const { id: song } = viewed
  const layered = chosen.some(
    one => Object.values(viewed.song.tracks).filter(track => track.part === one.track.part).length > 1,
  )
  const refs = chosen.map(one => one.ref)
  const fades = spanScale(bar, 0, beat / 2)
  const fade = (key: 'fadeIn' | 'fadeOut', label: string) => (
    <Figure
      {...fades}
      first={beat}
      label={label}
      value={shared(chosen, ({ place }) => place.cue[key]?.length ?? ticks(0))}
      onChange={length => {
        // What a split has cut off stays cut off, as far as the fade still reaches it.
        const old = shared(chosen, ({ place }) => place.cue[key] ?? null)
        const value: Fade = {
          length,
          curve: old?.curve ?? 'even',
          cut: ticks(Math.min(old?.cut ?? 0, length)),
        }
        return edit('setCueFades', { song, cues: refs, [key]: length === 0 ? null : value })
      }}
    />
  )
  const curve = (key: 'fadeIn' | 'fadeOut', label: string) => {
    const fading = chosen.filter(({ place }) => place.cue[key])
    return fading.length === 0 ? (
      <span />
    ) : (
      <Choose
        label={label}
        value={shared(fading, ({ place }) => place.cue[key]!.curve)}
        options={curves}
        onChange={to =>
          editTogether(
            fading.length > 1 ? `Fades of ${fading.length} cues` : null,
            fading.map(({ ref, place }): Told => {
              return ['setCueFades', { song, cues: [ref], [key]: { ...place.cue[key]!, curve: to } }]
            }),
          )
        }
      />
    )
  }
  const hasFades = chosen.some(({ place }) => place.cue.fadeIn || place.cue.fadeOut)
  const level = (to: number): ChangeLight => {
    return light => ({ ...light, level: levelled(light.level, to) })
  }
  return (
    <section className="cue-group" aria-label="On the chart">
      <div className="facts">
        <Figure
          {...shareScale}
          label={lights.some(light => typeof light.level !== 'number') ? 'Level, most' : 'Level'}
          value={shared(lights, light => peakOf(light.level))}
          first={1}
          onDraft={to => onDraft(level(to))}
          onChange={to => onChange('Level', level(to))}
        />
        <Figure
          {...spanScale(bar, 1, beat)}
          label="Length"
          value={shared(chosen, ({ place }) => place.cue.length)}
          onChange={length =>
            editTogether(
              null,
              chosen.map(({ ref, place }): Told => {
                return ['resizeCue', { song, ...ref, at: place.cue.at, length }]
              }),
            )
          }
        />
        {fade('fadeIn', 'Fade in')}
        {fade('fadeOut', 'Fade out')}
        {hasFades && curve('fadeIn', 'In, curve')}
        {hasFades && curve('fadeOut', 'Out, curve')}
        {chosen.length === 1 && <LevelFacts {...{ viewed, bar, beat }} place={chosen[0]!.place} />}
        {layered && (
          <Choose
            label="Merge"
            value={shared(chosen, one => one.track.merge)}
            options={merges}
            onChange={merge => {
              const tracks = new Set(chosen.map(({ place }) => place.cue.track))
              void editTogether(
                null,
                [...tracks].map((track): Told => ['setTrack', { song, track, merge }]),
              )
            }}
          />
        )}
      </div>
    </section>
  )
}

const curves: readonly (readonly [Curve, string])[] = [
  ['even', 'even'],
  ['soft', 'soft'],
  ['early', 'early'],
  ['late', 'late'],
]
const merges: readonly (readonly [Track['merge'], string])[] = [
  ['cover', 'cover'],
  ['highest', 'highest'],
  ['add', 'add'],
  ['mask', 'mask'],
]
