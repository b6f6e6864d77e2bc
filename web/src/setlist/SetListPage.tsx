// The set list page: the lists of the show, one of them tonight's, its songs in order with what a player must know.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { useState } from 'react'
import { Editable } from '../access/Editable.tsx'
import { useDocument } from '../document/document.ts'
import { edit } from '../document/editing.ts'
import { newId } from '../document/new-id.ts'
import { Head } from '../Head.tsx'
import { OscIn } from '../osc/OscIn.tsx'
import { Venue } from '../venue/Venue.tsx'
import { VersionPanel } from '../version/VersionPanel.tsx'
import { SetList } from './SetList.tsx'
import { Triggers } from './Triggers.tsx'
import './setlist.css'

export default function SetListPage() {
  const show = useDocument(s => s.show)
  return (
    <>
      <Head />
      {show ? <Lists show={show} /> : <p className="setlist-waits">Waiting for Glowchart to answer.</p>}
    </>
  )
}

function Lists({ show }: { show: Show }) {
  const [wanted, setWanted] = useState<string | null>(show.tonightList ?? null)
  const ids = Object.keys(show.setLists)
  const open = wanted !== null && show.setLists[wanted] ? wanted : (ids[0] ?? null)
  const add = () => {
    const list = newId('set')
    const songs = show.songOrder.map(song => ({ song }))
    void edit('setSetList', { list, value: { name: `Set ${ids.length + 1}`, songs } })
    setWanted(list)
  }
  return (
    <div className="setlist">
      <nav aria-label="Set lists" className="lists">
        <h1>Set lists</h1>
        <ul>
          {ids.map(id => (
            <li key={id}>
              <button
                type="button"
                className="btn"
                aria-current={id === open ? 'true' : undefined}
                onClick={() => setWanted(id)}
              >
                <span>{show.setLists[id]!.name}</span>
                {id === show.tonightList && <small>tonight</small>}
              </button>
            </li>
          ))}
        </ul>
        {ids.length === 0 && <p>No set list yet: tonight, all songs are played in their order.</p>}
        <Editable>
          <button type="button" className="btn outline" onClick={add}>
            New set list
          </button>
        </Editable>
      </nav>
      <div>
        <Editable>
          <VersionPanel />
          {open !== null && <SetList key={open} show={show} id={open} />}
          <Venue show={show} />
          <Triggers show={show} />
          <OscIn show={show} />
        </Editable>
      </div>
    </div>
  )
}
