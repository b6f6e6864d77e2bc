// A section brought onto another, before it is said how it is to land there; and copying by keys.

import { create } from 'zustand'
import { say } from '../document/session.ts'
import { viewedSongNow } from '../document/viewed.ts'

interface Landing {
  readonly from: string
  readonly onto: string
}

export const useLanding = create<{ landing: Landing | null }>(() => ({ landing: null }))

export const land = (from: string, onto: string): void => useLanding.setState({ landing: { from, onto } })
export const leaveLanding = (): void => useLanding.setState({ landing: null })

let copied: string | null = null

export function copySection(section: string): void {
  copied = section
  say(`${viewedSongNow()?.song.sections[section]?.name} copied: choose another section and paste it there.`)
}

/** Brings the section copied last onto this one. */
export function pasteOnto(section: string): void {
  if (copied === null || !viewedSongNow()?.song.sections[copied]) say('No section is copied.')
  else if (copied === section) say('Choose another section to paste onto.')
  else land(copied, section)
}
