// A look about to be kept: its picture, what each part does in it, and the place to type its name.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type FormEvent, useState } from 'react'
import type { Tonight } from '../document/viewed.ts'
import { LookPicture } from './LookPicture.tsx'
import { lightWords } from './light-words.ts'
import { dropLook, keepLook, useUnnamed } from './naming.ts'

export function NameLook({ rig, show, tonight }: { rig: Rig; show: Show; tonight: Tonight }) {
  const look = useUnnamed(s => s.look)
  const [name, setName] = useState('')
  if (!look) return null
  const parts = show.partOrder.filter(part => look.parts[part])
  const keep = (event: FormEvent) => {
    event.preventDefault()
    if (name.trim()) keepLook(name.trim())
  }
  return (
    <section className="panel" aria-labelledby="name-look">
      <h2 id="name-look">{look.from ? 'A look of the chosen cues' : 'A look of the stage now'}</h2>
      <LookPicture {...{ rig, show, tonight }} parts={look.parts} width={282} height={92} moving />
      <form className="row" onSubmit={keep}>
        <input
          // biome-ignore lint/a11y/noAutofocus: whoever asked for a look is about to type its name.
          autoFocus
          className="text"
          aria-label="Name of the look"
          placeholder="Name it"
          maxLength={80}
          value={name}
          onChange={event => setName(event.target.value)}
          onKeyDown={event => event.key === 'Escape' && dropLook()}
        />
        <button type="submit" className="btn go" aria-disabled={!name.trim()}>
          Keep
        </button>
        <button type="button" className="btn quiet" onClick={dropLook}>
          Drop
        </button>
      </form>
      <dl className="lights">
        {parts.map(part => (
          <div key={part}>
            <dt>{show.parts[part]?.name}</dt>
            <dd>{lightWords(show, look.parts[part]!)}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
