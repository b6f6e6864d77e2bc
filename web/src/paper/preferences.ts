// What this browser remembers of paper: its size, and who the house is to call.

import { create } from 'zustand'
import { persist } from 'zustand/middleware'
import { inThisBrowser, isWhole, type RightIf, rightOf } from '../document/in-this-browser.ts'
import { type PaperSize, papers } from './size.ts'

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

const isText = (value: unknown): boolean => typeof value === 'string'
const isRight: RightIf<PaperPreferences> = {
  size: value => Object.keys(papers).includes(value as string),
  contact: value =>
    isWhole<Contact>(value, { venue: isText, date: isText, name: isText, phone: isText, mail: isText }),
}

export const usePaper = create<PaperPreferences>()(
  persist(
    (): PaperPreferences => ({
      size: 'a4',
      contact: { venue: '', date: '', name: '', phone: '', mail: '' },
    }),
    {
      name: 'glowchart.paper',
      version: 1,
      storage: inThisBrowser(),
      merge: (kept, fresh) => ({ ...fresh, ...rightOf<PaperPreferences>(kept, isRight) }),
    },
  ),
)
