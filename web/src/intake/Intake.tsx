// The way to begin, or to write a draft, that was chosen.

import type { Show } from '@glowchart/shared/show/schema.ts'
import type { ViewedSong } from '../document/viewed.ts'
import { ImportMidi } from './ImportMidi.tsx'
import { NewSong } from './NewSong.tsx'
import type { IntakePanel } from './open.ts'
import { RoughIn } from './RoughIn.tsx'

interface Props {
  panel: IntakePanel
  show: Show
  viewed: ViewedSong | null
}

export function Intake({ panel, show, viewed }: Props) {
  if (panel === 'rough') return viewed && <RoughIn key={viewed.id} viewed={viewed} />
  if (panel === 'midi') return <ImportMidi show={show} />
  return <NewSong show={show} />
}
