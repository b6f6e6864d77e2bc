// The cue tracks of a part in the song on the page: how each merges over those above it, muted, alone, in which order.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { merges, type Track } from '@glowchart/shared/show/song.ts'
import { edit } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { useSession } from '../document/session.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { setLive } from '../live/desk.ts'
import { Sign } from '../ui/signs.tsx'
import { MergeSign } from './MergeSign.tsx'

const explained: Record<Track['merge'], readonly [name: string, does: string]> = {
  cover: ['covers', 'its cues take the place of what is above'],
  highest: ['highest', 'the brighter of the two, colour by colour'],
  add: ['adds', 'its light comes on top'],
  mask: ['masks', 'what is above shows only where this one is lit, in its colours'],
}

const NOBODY: readonly string[] = []

export function TrackList({ show, viewed, part }: { show: Show; viewed: ViewedSong; part: string }) {
  const solo = useSession(s => s.status?.live.solo) ?? NOBODY
  const { id: song, song: written } = viewed
  const tracks = written.trackOrder.filter(track => written.tracks[track]!.part === part)
  const name = show.parts[part]!.name
  return (
    <section className="group" aria-labelledby="part-tracks">
      <h3 id="part-tracks">Cue tracks in {written.title}</h3>
      {tracks.length === 0 && <p className="note">None yet: the first cue brings one.</p>}
      <ol className="track-list" aria-label="Cue tracks, each over those above it">
        {tracks.map((track, i) => {
          const { merge, muted } = written.tracks[track]!
          const alone = solo.includes(track)
          const cues = Object.values(written.sections).reduce(
            (sum, { cues }) => sum + Object.values(cues).filter(cue => cue.track === track).length,
            0,
          )
          const title = tracks.length === 1 ? name : `${name}, track ${i + 1}`
          const [, does] = explained[merge]
          return (
            <li key={track} className={muted ? 'muted' : ''}>
              <div className="head">
                <span className="number">{i + 1}</span>
                <MergeSign merge={i === 0 ? null : merge} />
                {i === 0 ? (
                  <span className="name">{cues === 1 ? 'one cue' : `${cues} cues`}</span>
                ) : (
                  <select
                    aria-label={`How ${title} merges`}
                    value={merge}
                    onChange={event => {
                      const next = merges.find(m => m === event.target.value)
                      if (next) void edit('setTrack', { song, track, merge: next })
                    }}
                  >
                    {merges.map(m => (
                      <option key={m} value={m}>
                        {explained[m][0]}
                      </option>
                    ))}
                  </select>
                )}
                <button
                  type="button"
                  className="btn small"
                  aria-pressed={muted}
                  aria-label={`Mute ${title}`}
                  title="Saved with the song"
                  onClick={() => edit('setTrack', { song, track, muted: !muted })}
                >
                  Mute
                </button>
                <button
                  type="button"
                  className="btn small"
                  aria-pressed={alone}
                  aria-disabled={muted}
                  aria-label={`Solo ${title}`}
                  title={muted ? 'It is muted' : 'All other tracks stay dark, until you lift it; never saved'}
                  onClick={() => {
                    if (alone) void setLive({ solo: solo.filter(other => other !== track) })
                    else if (!muted) void setLive({ solo: [...solo, track] })
                  }}
                >
                  Solo
                </button>
              </div>
              <div className="foot">
                <small>
                  {i === 0 ? 'the ground of the part' : `${does}; ${cues === 1 ? 'one cue' : `${cues} cues`}`}
                </small>
                <button
                  type="button"
                  className="tool"
                  aria-label={`${title} higher`}
                  aria-disabled={i === 0}
                  onClick={() => i > 0 && edit('moveTrack', { song, track, before: tracks[i - 1]! })}
                >
                  <Sign name="up" />
                </button>
                <button
                  type="button"
                  className="tool"
                  aria-label={`${title} lower`}
                  aria-disabled={i === tracks.length - 1}
                  onClick={() =>
                    i < tracks.length - 1 && edit('moveTrack', { song, track: tracks[i + 1]!, before: track })
                  }
                >
                  <Sign name="down" />
                </button>
                <button
                  type="button"
                  className="tool"
                  aria-label={`Delete ${title}${cues > 0 ? ` with its ${cues} cues` : ''}`}
                  title={cues > 0 ? `With its ${cues} cues` : undefined}
                  onClick={() => edit('deleteTrack', { song, track })}
                >
                  <Sign name="cross" />
                </button>
              </div>
            </li>
          )
        })}
      </ol>
      <button
        type="button"
        className="btn"
        onClick={() => edit('addTrack', { song, track: newId('track'), part })}
      >
        Add a cue track
      </button>
    </section>
  )
}
