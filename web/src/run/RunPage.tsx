// The run page: read from two metres in the dark. Set at the left, countdown in the middle, song and stage at the right.

import { useEffect, useRef, useState } from 'react'
import { useDocument } from '../document/document.ts'
import { viewedSong } from '../document/viewed.ts'
import { usePlayed } from '../version/running.ts'
import { Hands } from './Hands.tsx'
import { Health } from './Health.tsx'
import { KeyHands } from './KeyHands.tsx'
import { listenToRunKeys } from './keys.ts'
import { LiveStage } from './LiveStage.tsx'
import { useLastStatus } from './last-status.ts'
import { More } from './More.tsx'
import { SetColumn } from './SetColumn.tsx'
import { SongMap } from './SongMap.tsx'
import { Alarm, Where } from './Where.tsx'
import './run.css'
import './alarm.css'
import './more.css'
import './hands.css'
import './phone.css'

const STAGE_HEIGHT = 164
/** Between songs there is no map over it. */
const ALONE_HEIGHT = 300
/** Room of a rehearsal mark before its line, px. */
const MARKS = 58
const DIMS = 3

export default function RunPage() {
  const played = usePlayed()
  const { status } = useLastStatus()
  const song = status?.song ?? null
  const look = status?.look ?? null
  const [more, setMore] = useState(false)
  const [dim, setDim] = useState(0)
  const [map, size] = useSize()
  useEffect(listenToRunKeys, [])
  if (!played) return <p className="run-waits">Waiting for Glowchart to answer.</p>
  const { rig, show, tonight } = played
  const standing = song === null ? null : viewedSong(show, song)
  return (
    <div className="run" data-dim={dim}>
      <h1 className="sr">Run</h1>
      <Health />
      <SetColumn show={show} standing={standing} />
      {standing ? (
        <Where key={standing.id} standing={standing} />
      ) : (
        <section className="where between" aria-label="Where the set is">
          <p className="sec">
            <b>{!status ? 'Not known' : look === null ? 'Nothing stands' : show.looks[look]?.name}</b>
          </p>
          {look !== null && <p className="stands">stands between songs</p>}
          <Alarm />
        </section>
      )}
      <section className={`right${more ? ' has-more' : ''}`} ref={map} aria-label="Song and stage">
        {more ? (
          <More show={show} standing={standing} />
        ) : (
          <>
            {standing && size.width > 0 && (
              <SongMap
                {...{ rig, show, tonight, standing }}
                width={size.width - MARKS}
                height={size.height - STAGE_HEIGHT - 22}
              />
            )}
            <LiveStage
              rig={rig}
              tonight={tonight}
              width={size.width}
              height={standing ? STAGE_HEIGHT : Math.max(STAGE_HEIGHT, Math.min(size.height, ALONE_HEIGHT))}
            />
          </>
        )}
      </section>
      <Hands more={more} onMore={() => setMore(!more)} onDim={() => setDim((dim + 1) % DIMS)} />
      <KeyHands show={show} />
    </div>
  )
}

function useSize(): [React.RefObject<HTMLElement | null>, { width: number; height: number }] {
  const element = useRef<HTMLElement>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  const there = useDocument(s => s.show !== null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the element comes with the show.
  useEffect(() => {
    if (!element.current) return
    const watch = new ResizeObserver(([entry]) => entry && setSize(entry.contentRect))
    watch.observe(element.current)
    return () => watch.disconnect()
  }, [there])
  return [element, size]
}
