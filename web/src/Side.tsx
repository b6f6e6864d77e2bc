// The side of the page: what is chosen decides the panel that stands there.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { type ReactNode, useMemo, useState } from 'react'
import { Editable } from './access/Editable.tsx'
import { ReadOnly } from './access/ReadOnly.tsx'
import { AdviceList } from './advice/AdviceList.tsx'
import { CuePanel } from './cue/CuePanel.tsx'
import { chosenOf } from './cue/chosen.ts'
import { useChoice } from './document/choice.ts'
import { useSession } from './document/session.ts'
import type { Tonight, ViewedSong } from './document/viewed.ts'
import { Intake } from './intake/Intake.tsx'
import { useIntake } from './intake/open.ts'
import { LookPanel } from './look/LookPanel.tsx'
import { Looks } from './look/Looks.tsx'
import { NameLook } from './look/NameLook.tsx'
import { useUnnamed } from './look/naming.ts'
import { Swatches } from './look/Swatches.tsx'
import { OutputSide } from './output/OutputSide.tsx'
import { GatherPanel } from './part/GatherPanel.tsx'
import { PartPanel } from './part/PartPanel.tsx'
import { Parts } from './part/Parts.tsx'
import { SectionPanel } from './section/SectionPanel.tsx'
import { ShowFile } from './songs/ShowFile.tsx'
import { Songs } from './songs/Songs.tsx'
import { TapIn } from './tap/TapIn.tsx'
import { useTapping } from './tap/tapping.ts'
import { Sign } from './ui/signs.tsx'

interface Props {
  rig: Rig
  show: Show
  tonight: Tonight | null
  viewed: ViewedSong | null
}

/** The order of choice: a way to begin that was asked for, a part chosen with its cues, chosen cues, the chosen section, part or look; with nothing chosen the songs stand here. */
export function Side(props: Props) {
  const choosesOutput = useSession(s => s.choosesOutput)
  const armed = useTapping(s => s.armed)
  return (
    <aside className="side" aria-label="Side">
      <ReadOnly />
      {choosesOutput && <OutputSide rig={props.rig} show={props.show} />}
      {props.viewed && <AdviceList show={props.show} song={props.viewed.id} />}
      <Editable>
        {props.tonight && <GatherPanel show={props.show} tonight={props.tonight} />}
        {armed && <TapIn show={props.show} armed={armed} />}
      </Editable>
      <Panel {...props} />
    </aside>
  )
}

function Panel(props: Props) {
  const { rig, show, tonight, viewed } = props
  const chosen = useChosenPanel(props)
  if (chosen) return <Editable>{chosen}</Editable>
  return (
    <Shelf key={viewed?.id}>
      <Songs show={show} viewed={viewed} />
      {tonight && <Looks {...{ rig, show, tonight }} />}
      {tonight && <Parts {...{ show, tonight }} />}
      <Editable>
        <Swatches show={show} />
        <ShowFile id={show.id} />
      </Editable>
    </Shelf>
  )
}

/** The panel of what is chosen; null with nothing chosen. */
function useChosenPanel({ rig, show, tonight, viewed }: Props): ReactNode {
  const intake = useIntake(s => s.panel)
  const cues = useChoice(s => s.cues)
  const seenIn = useChoice(s => s.seenIn)
  const thing = useChoice(s => s.thing)
  const unnamed = useUnnamed(s => s.look)
  const chosen = useMemo(
    () => (viewed ? chosenOf(show, viewed, cues, seenIn) : []),
    [show, viewed, cues, seenIn],
  )
  if (intake) return <Intake panel={intake} show={show} viewed={viewed} />
  if (unnamed && tonight) return <NameLook {...{ rig, show, tonight }} />
  if (thing?.kind === 'part' && show.parts[thing.id] && tonight && viewed)
    return <PartPanel key={thing.id} {...{ show, tonight, viewed }} part={thing.id} />
  if (chosen.length > 0 && tonight && viewed) return <CuePanel {...{ rig, show, tonight, viewed, chosen }} />
  if (thing?.kind === 'look' && show.looks[thing.id] && tonight && viewed)
    return <LookPanel key={thing.id} {...{ rig, show, tonight, viewed }} look={thing.id} />
  if (thing?.kind === 'section' && viewed?.song.sections[thing.id])
    return <SectionPanel {...{ show, viewed }} id={thing.id} />
  return null
}

/** What the show has, to work with. On a phone, where the chart needs the room, it is one line until it is asked for. */
function Shelf({ children }: { children: ReactNode }) {
  const [open, setOpen] = useState(false)
  return (
    <div className="shelf" data-open={open}>
      <button type="button" className="unfold" aria-expanded={open} onClick={() => setOpen(!open)}>
        Songs, looks, parts, swatches
        <Sign name={open ? 'up' : 'unfold'} />
      </button>
      {children}
    </div>
  )
}
