// Where the keyboard is among sections: on a mark on the chart, in the panel, or in a name that is typed in its place.

import { create } from 'zustand'

interface InPlace {
  /** The section whose name, or pencil note, is being typed on the chart. */
  readonly name: string | null
  readonly note: string | null
}

export const useInPlace = create<InPlace>(() => ({ name: null, note: null }))

export const renameInPlace = (section: string): void => begin({ name: section, note: null })
export const noteInPlace = (section: string): void => begin({ name: null, note: section })
export const endInPlace = (): void => useInPlace.setState({ name: null, note: null })

export const markId = (section: string): string => `mark-${section}`
export const PANEL = 'section-panel'

let coming = 0

/** Once the chart has drawn it: a mark out of sight is not on the page yet. */
export function focusMark(section: string): void {
  cancelAnimationFrame(coming)
  coming = requestAnimationFrame(() =>
    document.getElementById(markId(section))?.focus({ preventScroll: true }),
  )
}

function begin(inPlace: InPlace): void {
  // The keyboard belongs to what is typed now, not to a mark it was still on its way to.
  cancelAnimationFrame(coming)
  useInPlace.setState(inPlace)
}

export const focusPanel = (): void =>
  document.getElementById(PANEL)?.querySelector<HTMLElement>('input, button')?.focus()
