// How a section that was brought onto another lands there: in its place, over it, one part of it, or as a repeat.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { useEffect, useRef, useState } from 'react'
import { chooseThing } from '../document/choice.ts'
import { edit } from '../document/editing.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { focusMark, markId } from './focus.ts'
import { leaveLanding, useLanding } from './landing.ts'

export function LandingChoice({ show, viewed }: { show: Show; viewed: ViewedSong }) {
  const landing = useLanding(s => s.landing)
  const { sections } = viewed.song
  if (!landing || !sections[landing.from] || !sections[landing.onto]) return null
  return <Choice key={`${landing.from} ${landing.onto}`} {...{ show, viewed, ...landing }} />
}

/** Room it needs under a mark, px. */
const ROOM = 300

function Choice({
  show,
  viewed,
  from,
  onto,
}: {
  show: Show
  viewed: ViewedSong
  from: string
  onto: string
}) {
  const { song } = viewed
  const box = useRef<HTMLDialogElement>(null)
  const lit = show.partOrder.filter(part => Object.values(song.tracks).some(track => track.part === part))
  const [part, setPart] = useState(lit[0] ?? '')
  useEffect(() => {
    const dialog = box.current
    if (!dialog) return
    const mark = document.getElementById(markId(onto))?.getBoundingClientRect()
    if (mark) {
      dialog.style.left = `${mark.left}px`
      dialog.style.top = `${Math.max(8, Math.min(mark.bottom + 6, window.innerHeight - ROOM))}px`
      dialog.style.margin = '0'
    }
    dialog.showModal()
  }, [onto])
  const [source, target] = [song.sections[from]!, song.sections[onto]!]
  const link = source.sameAs
  const isRepeated = song.sectionOrder.some(id => song.sections[id]!.sameAs?.section === onto)
  const done = () => {
    leaveLanding()
    chooseThing('section', onto)
    focusMark(onto)
  }
  const copy = (how: 'replace' | 'over', one?: string) => {
    const args = { song: viewed.id, section: from, onto, how }
    void edit('copySection', one === undefined ? args : { ...args, part: one })
    done()
  }
  const repeat = () => {
    // A copy is repeated as its source is, with what it replaces.
    const as = link ? { to: link.section, swatches: link.swatches, trim: link.trim } : { to: from }
    void edit('linkSection', { song: viewed.id, section: onto, ...as })
    done()
  }
  return (
    <dialog
      ref={box}
      className="landing"
      aria-labelledby="landing-title"
      // The page's own keys wait.
      onKeyDown={event => event.stopPropagation()}
      onClose={() => leaveOr(onto)}
    >
      <h2 id="landing-title">
        {source.name} onto {target.name}
      </h2>
      <p>{lengthWords(source, target)}</p>
      {target.sameAs && (
        <p>
          {target.name} repeats {song.sections[target.sameAs.section]!.name}: it is unlinked, for one part
          only that part is freed.
        </p>
      )}
      <button type="button" className="btn" onClick={() => copy('replace')}>
        Take its place
      </button>
      <button type="button" className="btn" onClick={() => copy('over')}>
        Lay over
      </button>
      <span className="one">
        <button type="button" className="btn" onClick={() => copy('replace', part)}>
          One part only
        </button>
        <select
          className="btn"
          aria-label="The part"
          value={part}
          onChange={event => setPart(event.target.value)}
        >
          {lit.map(id => (
            <option key={id} value={id}>
              {show.parts[id]!.name}
            </option>
          ))}
        </select>
      </span>
      <button type="button" className="btn" disabled={isRepeated} onClick={repeat}>
        Repeat, linked
      </button>
      {isRepeated && (
        <p>
          Others repeat {target.name}, so it cannot repeat {source.name}.
        </p>
      )}
      <button type="button" className="btn quiet" onClick={() => box.current?.close()}>
        Leave it
      </button>
    </dialog>
  )
}

function leaveOr(onto: string): void {
  if (!useLanding.getState().landing) return
  leaveLanding()
  focusMark(onto)
}

interface Long {
  readonly name: string
  readonly bars: number
}

/** What a difference of length does to the copy. */
function lengthWords(source: Long, target: Long): string {
  const { bars } = target
  if (source.bars > bars)
    return `${source.name} is longer: it is cut after ${bars === 1 ? 'a bar' : `${bars} bars`}.`
  if (source.bars === bars) return `Both have ${bars === 1 ? 'one bar' : `${bars} bars`}.`
  const rest = source.bars + 1 === bars ? `bar ${bars} stays` : `bars ${source.bars + 1} to ${bars} stay`
  return `${source.name} is shorter: it is not stretched, ${rest} as before.`
}
