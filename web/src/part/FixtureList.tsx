// Which fixtures make up a part tonight, in the order in which it plays over them; and who stands in when there are none.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { type DragEvent, type KeyboardEvent, useState } from 'react'
import { edit } from '../document/editing.ts'
import { say } from '../document/session.ts'
import type { Tonight } from '../document/viewed.ts'
import { dropGathered, gather, gatheredOn, useGathered } from '../stage/gathered.ts'
import { LightButton } from '../stage/LightButton.tsx'
import { Sign } from '../ui/signs.tsx'

export function FixtureList({ show, tonight, part }: { show: Show; tonight: Tonight; part: string }) {
  const [dragged, setDragged] = useState<number | null>(null)
  const gathered = useGathered()
  const { kit, stage } = tonight
  const { fixtures, cyclic, standIn } = kit.parts[part] ?? { fixtures: [], cyclic: false }
  const set = (change: { fixtures?: string[]; cyclic?: boolean; standIn?: string | null }) =>
    void edit('setPartFixtures', { kit: show.tonight, part, ...change })
  const nameOf = (id: string) => stage.fixtures.find(f => f.id === id)?.name
  const others = gatheredOn(stage, gathered).filter(({ id }) => !fixtures.includes(id))
  const move = (from: number, to: number) => {
    if (to < 0 || to >= fixtures.length || to === from) return
    const rest = fixtures.toSpliced(from, 1)
    set({ fixtures: rest.toSpliced(to, 0, fixtures[from]!) })
    say(`${nameOf(fixtures[from]!)} is number ${to + 1}`)
  }
  const onKeyDown = (event: KeyboardEvent<HTMLElement>, i: number) => {
    const by = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0
    if (by === 0) return
    event.preventDefault()
    const grips = [...(event.currentTarget.closest('ol')?.querySelectorAll<HTMLElement>('.grip') ?? [])]
    if (event.altKey) move(i, i + by)
    grips[i + by]?.focus()
  }
  return (
    <section className="group" aria-labelledby="part-fixtures">
      <h3 id="part-fixtures">
        Tonight’s fixtures, in order
        {fixtures.length > 0 && (
          <button type="button" className="word" onClick={() => gather(fixtures, false)}>
            Show on the stage
          </button>
        )}
      </h3>
      {fixtures.length === 0 && <p className="note">None: click some on the stage.</p>}
      <ol className="fixture-list" aria-label="Fixtures of the part, in order">
        {fixtures.map((id, i) => (
          <li
            // biome-ignore lint/suspicious/noArrayIndexKey: a fixture may be named twice, and its place is what it is here.
            key={`${id} ${i}`}
            draggable
            className={dragged === i ? 'dragged' : ''}
            onDragStart={() => setDragged(i)}
            onDragEnd={() => setDragged(null)}
            onDragOver={(event: DragEvent) => dragged !== null && event.preventDefault()}
            onDrop={() => dragged !== null && move(dragged, i)}
          >
            <button
              type="button"
              className="number grip"
              aria-label={`${nameOf(id) ?? id}, number ${i + 1}: Alt and up or down moves it`}
              onKeyDown={event => onKeyDown(event, i)}
            >
              {i + 1}
            </button>
            <span className="name">{nameOf(id) ?? `${id}, not out tonight`}</span>
            <LightButton fixture={id} name={nameOf(id) ?? id} />
            <button
              type="button"
              className="tool"
              aria-label={`Take out ${nameOf(id) ?? id}`}
              onClick={() => set({ fixtures: fixtures.toSpliced(i, 1) })}
            >
              <Sign name="cross" />
            </button>
          </li>
        ))}
      </ol>
      {others.length > 0 && (
        <button
          type="button"
          className="btn"
          onClick={() => {
            set({ fixtures: [...fixtures, ...others.map(f => f.id)] })
            dropGathered()
          }}
        >
          {others.length === 1 ? `Add ${others[0]!.name}` : `Add the ${others.length} from the stage`}
        </button>
      )}
      <label className="check">
        <input type="checkbox" checked={cyclic} onChange={event => set({ cyclic: event.target.checked })} />
        The last is next to the first
      </label>
      <label className="field">
        When it has no fixture, its cues play on
        <select value={standIn ?? ''} onChange={event => set({ standIn: event.target.value || null })}>
          <option value="">nothing</option>
          {show.partOrder.map(other =>
            other === part ? null : (
              <option key={other} value={other}>
                {show.parts[other]?.name}
              </option>
            ),
          )}
        </select>
      </label>
    </section>
  )
}
