// What this browser remembers of paper: its size, and who the house is to call.

import { create } from 'zustand'
import { persist } from 'zustand/middleware'
import type { PaperSize } from './size.ts'

/** As typed; empty fields are printed as lines to write on. */
export const contactFields = [
  ['venue', 'Venue'],
  ['date', 'Date'],
  ['name', 'Contact'],
  ['phone', 'Telephone'],
  ['mail', 'Mail'],
] as const
export type Contact = Readonly<Record<(typeof contactFields)[number][0], string>>

interface PaperPreferences {
  size: PaperSize
  contact: Contact
}

export const usePaper = create<PaperPreferences>()(
  persist(
    (): PaperPreferences => ({
      size: 'a4',
      contact: { venue: '', date: '', name: '', phone: '', mail: '' },
    }),
    { name: 'glowchart.paper', version: 1 },
  ),
)
