// The list of keys of the place that is open.

import { useEffect, useRef } from 'react'
import { usePreferences } from '../document/preferences.ts'
import { useSession } from '../document/session.ts'
import { places, usePlace } from '../places.ts'
import { keyList } from '../transport/keys.ts'

export function KeyList() {
  const shows = useSession(s => s.showsKeys)
  const characterKeys = usePreferences(s => s.characterKeys)
  const here = usePlace()
  const keys = places.find(({ id }) => id === here)?.keys ?? keyList
  const dialog = useRef<HTMLDialogElement>(null)
  useEffect(() => {
    if (shows) dialog.current?.showModal()
    else dialog.current?.close()
  }, [shows])
  return (
    <dialog
      ref={dialog}
      className="keys"
      aria-labelledby="keys-title"
      onClose={() => useSession.setState({ showsKeys: false })}
    >
      <h2 id="keys-title">Keys</h2>
      <dl>
        {keys.map(([key, does]) => (
          <div key={`${key} ${does}`}>
            <dt>{key}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
      <label className="choice">
        <input
          type="checkbox"
          checked={characterKeys}
          onChange={event => usePreferences.setState({ characterKeys: event.target.checked })}
        />
        Keys that are a single letter or sign act
      </label>
      <button type="button" className="btn" onClick={() => useSession.setState({ showsKeys: false })}>
        Close
      </button>
    </dialog>
  )
}
