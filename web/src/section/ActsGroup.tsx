// What is done to a section as a whole.

import type { ViewedSong } from '../document/viewed.ts'
import { addAfterChosen, deleteSection, duplicateSection, moveSection } from './acts.ts'
import { land } from './landing.ts'

export function ActsGroup({ viewed, id }: { viewed: ViewedSong; id: string }) {
  const { song } = viewed
  const at = song.sectionOrder.indexOf(id)
  const others = song.sectionOrder.filter(other => other !== id)
  return (
    <section className="cue-group" aria-label="Section">
      <div className="acts">
        <button type="button" className="btn" disabled={at === 0} onClick={() => moveSection(id, -1)}>
          Earlier
        </button>
        <button
          type="button"
          className="btn"
          disabled={at === song.sectionOrder.length - 1}
          onClick={() => moveSection(id, 1)}
        >
          Later
        </button>
        <button type="button" className="btn" onClick={() => duplicateSection(id, false)}>
          Duplicate
        </button>
        <button type="button" className="btn" onClick={() => duplicateSection(id, true)}>
          Repeat
        </button>
        <button type="button" className="btn" onClick={addAfterChosen}>
          Add after
        </button>
        {others.length > 0 && (
          <select
            className="btn"
            aria-label="Copy onto"
            value=""
            onChange={event => land(id, event.target.value)}
          >
            <option value="" disabled>
              Copy onto
            </option>
            {others.map(other => (
              <option key={other} value={other}>
                {song.sections[other]!.name}
              </option>
            ))}
          </select>
        )}
        <button
          type="button"
          className="btn quiet"
          disabled={others.length === 0}
          onClick={() => deleteSection(id)}
        >
          Delete
        </button>
      </div>
    </section>
  )
}
