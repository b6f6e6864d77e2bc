// A song's structure as a musician types it, "Intro 8, Verse 16, Chorus 8, Verse, Chorus": read into sections and a song.

import { CodedError } from '../errors.ts'
import { name } from './fields.ts'
import { type Meter, type Section, type Song, sectionSchema } from './song.ts'

/** What a song may have of them, so that a slip of the hand stays small. */
const MOST_SECTIONS = 200
const { maxValue: MOST_BARS } = sectionSchema.shape.bars
const { maxLength: LONGEST_NAME } = name

export interface TypedSection {
  readonly name: string
  readonly bars: number
  /** Index of the first section of that name, which this one repeats; null for the first itself. */
  readonly repeats: number | null
}

/**
 * Reads sections with commas, semicolons or line breaks between them. Each is a name and its number of bars; a name that has come
 * before (small and capital letters alike) may leave the number out, and has as many bars as the first time.
 * @throws CodedError `structure.empty`, `structure.name`, `structure.bars`, `structure.tooMany`, naming the section
 */
export function readStructure(text: string): TypedSection[] {
  const items = text
    .split(/[,;\n]/)
    .map(item => item.trim().replace(/\s+/g, ' '))
    .filter(item => item !== '')
  if (items.length === 0) throw new CodedError('structure.empty', 'no section is typed', 'sections')
  if (items.length > MOST_SECTIONS) {
    const says = `${items.length} sections are typed; ${MOST_SECTIONS} are the most`
    throw new CodedError('structure.tooMany', says, 'sections')
  }
  const sections: TypedSection[] = []
  const first = new Map<string, number>()
  for (const [i, item] of items.entries()) {
    const where = `section ${i + 1}, "${item.slice(0, 40)}"`
    const [, typed = '', digits] = /^(.*?)(?:(?:^|\s)(\d+)(?:\s*bars?)?)?$/i.exec(item)!
    if (typed === '') throw new CodedError('structure.name', 'the section has no name', where)
    if (typed.length > LONGEST_NAME!) {
      throw new CodedError('structure.name', `a name has at most ${LONGEST_NAME} letters`, where)
    }
    const key = typed.toLowerCase()
    const repeats = first.get(key) ?? null
    if (digits === undefined && repeats === null) {
      throw new CodedError('structure.bars', `"${typed}" does not say how many bars it has`, where)
    }
    const bars = digits === undefined ? sections[repeats!]!.bars : Number(digits)
    if (bars < 1 || bars > MOST_BARS!) {
      throw new CodedError('structure.bars', `a section has 1 to ${MOST_BARS} bars, not ${digits}`, where)
    }
    if (repeats === null) first.set(key, i)
    sections.push({ name: repeats === null ? typed : sections[repeats]!.name, bars, repeats })
  }
  return sections
}

interface StructureOptions {
  readonly title: string
  readonly bpm: number
  readonly meter: Meter
  /** At least one. */
  readonly sections: readonly TypedSection[]
  /** Sections that come again repeat the first of their name: edit one, all follow. Otherwise each stands for itself. */
  readonly linked: boolean
  /** A new id at every call, unlike any before. */
  readonly ids: () => string
}

/** A song of these sections, without cues. */
export function songFromStructure({ title, bpm, meter, sections, linked, ids }: StructureOptions): Song {
  const order = sections.map(() => ids())
  const made = sections.map(({ name, bars, repeats }): Section => {
    const section = { name, bars, meters: [], tempo: [], vamp: false, cues: {} }
    if (!linked || repeats === null) return section
    return { ...section, sameAs: { section: order[repeats]!, swatches: {}, trim: 1, freed: [] } }
  })
  return {
    title,
    bpm,
    meter,
    sections: Object.fromEntries(made.map((section, i) => [order[i]!, section])),
    sectionOrder: order,
    tracks: {},
    trackOrder: [],
  }
}
