// The two sizes of paper, and what is left on them inside the margins.

export type PaperSize = 'a4' | 'letter'

export interface Paper {
  readonly name: string
  /** Millimetres: A4 by ISO 216, Letter by ANSI/ASME Y14.1 (8.5 × 11 in). */
  readonly width: number
  readonly height: number
}

export const papers: Readonly<Record<PaperSize, Paper>> = {
  a4: { name: 'A4', width: 210, height: 297 },
  letter: { name: 'Letter', width: 215.9, height: 279.4 },
}

/** Margins, mm: left and right, top, foot. They stand in paper.css too. */
const SIDE = 15
const TOP = 13
const FOOT = 11
/** Room of the head and the foot of every page, px. They stand in paper.css too. */
const HEAD_PX = 54
const FOOT_PX = 26

/** CSS px of a millimetre: 96 px an inch (CSS Values and Units 4, section 6.2). */
const PX = 96 / 25.4

export const widthPx = (size: PaperSize): number => papers[size].width * PX
export const heightPx = (size: PaperSize): number => papers[size].height * PX
/** What a sheet may fill, px. */
export const contentWidth = (size: PaperSize): number => Math.floor(widthPx(size) - 2 * SIDE * PX)
export const contentHeight = (size: PaperSize): number =>
  Math.floor(heightPx(size) - (TOP + FOOT) * PX - HEAD_PX - FOOT_PX)
