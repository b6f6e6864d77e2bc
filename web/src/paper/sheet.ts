// What a sheet is made of: a head, and blocks that are kept whole or tables that break between rows.

import type { ReactNode } from 'react'

/** Kept on one page. */
export interface WholeBlock {
  readonly kind: 'whole'
  readonly key: string
  readonly node: ReactNode
  /** Begins a page. */
  readonly breakBefore?: boolean
  /** Stands on the page of what comes next. */
  readonly withNext?: boolean
}

/** Breaks between rows; caption and head come again on the next page. */
export interface TableBlock {
  readonly kind: 'table'
  readonly key: string
  readonly caption: ReactNode
  /** Heads of the columns and their widths, `*` for the rest. */
  readonly columns: readonly { readonly head: ReactNode; readonly width: string; readonly right?: true }[]
  readonly rows: readonly TableRow[]
  readonly breakBefore?: boolean
}

export interface TableRow {
  readonly key: string
  /** One a column; of a single cell, the whole width. */
  readonly cells: readonly ReactNode[]
  /** A heading among the rows: stays with the row after it. */
  readonly heads?: true
}

export type Block = WholeBlock | TableBlock

export interface Sheet {
  readonly id: string
  readonly title: string
  readonly left: ReactNode
  readonly right: ReactNode
  /** One line at the foot of every page. */
  readonly foot: string
  readonly blocks: readonly Block[]
}
