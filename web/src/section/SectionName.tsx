// A section's rehearsal mark and name on the chart: pressed they choose it, twice they let it be renamed in its place.

import type { Section } from '@glowchart/shared/show/song.ts'
import { useChoice } from '../document/choice.ts'
import { edit } from '../document/editing.ts'
import { viewedSongNow } from '../document/viewed.ts'
import { chooseSection, chosenSection, familyOf } from './acts.ts'
import { Field } from './Field.tsx'
import { lookAtFamily } from './family.ts'
import { endInPlace, focusMark, focusPanel, markId, renameInPlace, useInPlace } from './focus.ts'

interface Props {
  /** Id of the song. */
  song: string
  id: string
  section: Section
  /** Name of the section it repeats. */
  repeats: string | null
  mark: string
}

export function SectionName({ song, id, section, repeats, mark }: Props) {
  const isChosen = useChoice(s => s.thing?.kind === 'section' && s.thing.id === id)
  const isRenamed = useInPlace(s => s.name === id)
  const family = () => {
    const viewed = viewedSongNow()
    return viewed && familyOf(viewed, id).length > 1 ? (section.sameAs?.section ?? id) : null
  }
  return (
    <span className={isChosen ? 'section-name chosen' : 'section-name'}>
      <button
        type="button"
        id={markId(id)}
        className="mark"
        data-section={id}
        aria-pressed={isChosen}
        aria-label={`Section ${section.name}, mark ${mark}${repeats === null ? '' : `, repeats ${repeats}`}`}
        onClick={event => {
          // Pressed again by key, the keyboard goes on into the panel.
          if (event.detail === 0 && chosenSection() === id) focusPanel()
          else chooseSection(id)
        }}
        onPointerEnter={() => lookAtFamily(family())}
        onPointerLeave={() => lookAtFamily(null)}
        onFocus={() => lookAtFamily(family())}
        onBlur={() => lookAtFamily(null)}
      >
        {mark}
      </button>
      {isRenamed ? (
        <Field
          className="rename"
          label={`Name of ${section.name}`}
          value={section.name}
          most={80}
          atOnce
          onChange={name => name && edit('renameSection', { song, section: id, name })}
          onEnd={key => {
            endInPlace()
            if (key !== null) focusMark(id)
          }}
        />
      ) : (
        <button
          type="button"
          className="name"
          data-section={id}
          tabIndex={-1}
          onClick={() => chooseSection(id)}
          onDoubleClick={() => renameInPlace(id)}
        >
          {section.name}
        </button>
      )}
    </span>
  )
}
