// By which link a section repeats another: its source, what it replaces, the tracks freed; and which repeat this one.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { shareScale } from '../cue/values.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { Figure } from '../ui/Figure.tsx'
import { chooseSection } from './acts.ts'
import { Replacements } from './Replacements.tsx'

interface Props {
  show: Show
  viewed: ViewedSong
  id: string
  family: readonly string[]
}

export function LinkGroup({ show, viewed, id, family }: Props) {
  const { song } = viewed
  const { sameAs } = song.sections[id]!
  const ref = { song: viewed.id, section: id }
  if (sameAs) {
    return (
      <section className="cue-group" aria-label="Link">
        <h3>
          <span>
            Repeats{' '}
            <button type="button" className="word" onClick={() => chooseSection(sameAs.section)}>
              {song.sections[sameAs.section]!.name}
            </button>
          </span>
          <button type="button" className="btn quiet" onClick={() => edit('unlinkSection', ref)}>
            Unlink
          </button>
        </h3>
        <div className="facts">
          <Figure
            {...shareScale}
            label="Trim"
            value={sameAs.trim}
            onChange={trim => edit('setLink', { ...ref, trim })}
          />
        </div>
        <Replacements show={show} viewed={viewed} id={id} link={sameAs} />
        <fieldset className="tracks">
          <legend>Cue tracks</legend>
          {song.trackOrder.map(track => {
            const isFreed = sameAs.freed.includes(track)
            return (
              <button
                key={track}
                type="button"
                className="figure press"
                aria-pressed={isFreed}
                onClick={() => edit(isFreed ? 'relinkTrack' : 'freeTrack', { ...ref, track })}
              >
                <span>{trackName(show, viewed, track)}</span>
                <b>{isFreed ? 'free here' : 'linked'}</b>
              </button>
            )
          })}
        </fieldset>
      </section>
    )
  }
  const copies = family.filter(other => other !== id)
  if (copies.length > 0) {
    return (
      <section className="cue-group" aria-label="Link">
        <h3>Repeated by</h3>
        <p className="kin-list">
          {copies.map(copy => (
            <button key={copy} type="button" className="btn" onClick={() => chooseSection(copy)}>
              {song.sections[copy]!.name}
            </button>
          ))}
        </p>
      </section>
    )
  }
  const sources = song.sectionOrder.filter(other => other !== id && !song.sections[other]!.sameAs)
  if (sources.length === 0) return null
  return (
    <section className="cue-group" aria-label="Link">
      <h3>
        Repeats
        <select
          aria-label="Repeats"
          value=""
          onChange={event => edit('linkSection', { ...ref, to: event.target.value })}
        >
          <option value="">none, its own light</option>
          {sources.map(source => (
            <option key={source} value={source}>
              {song.sections[source]!.name}
            </option>
          ))}
        </select>
      </h3>
    </section>
  )
}

/** The part's name; where it has several tracks, their number from the top. */
function trackName(show: Show, { song }: ViewedSong, track: string): string {
  const { part } = song.tracks[track]!
  const same = song.trackOrder.filter(other => song.tracks[other]!.part === part)
  const name = show.parts[part]?.name ?? part
  return same.length === 1 ? name : `${name} ${same.indexOf(track) + 1}`
}
