// The set list: large, for the floor, its type as large as the songs leave room for.

import { setListRows } from '@glowchart/shared/paper/set-list.ts'
import { headWords, type PaperContext } from '../context.ts'
import type { Sheet } from '../sheet.ts'
import { contentHeight, contentWidth } from '../size.ts'

export function setListSheetOf(context: PaperContext, id: string): Sheet {
  const { show, size } = context
  const list = show.setLists[id]!
  const { rows, length } = setListRows(show, list)
  // Two lines a song under its title; never so small that it cannot be read from standing height.
  const each = Math.min(170, Math.max(66, contentHeight(size) / Math.max(1, rows.length)))
  const longest = Math.max(1, ...rows.map(row => row.title.length))
  // A letter is a little wider than half its size in this face.
  const title = Math.max(20, Math.min(60, each * 0.4, (contentWidth(size) - 80) / (0.58 * longest)))
  const [band, where] = headWords(context)
  return {
    id: `set ${id}`,
    title: 'Set list',
    left: (
      <>
        <b>{band}</b>
        <br />
        {where}
      </>
    ),
    right: (
      <>
        {list.name}
        <br />
        {rows.length} songs, {length}
      </>
    ),
    foot: 'Lengths as written: vamps once through.',
    blocks: rows.map(row => ({
      kind: 'whole',
      key: `${row.number} ${row.song}`,
      node: (
        <section className="set-row" style={{ fontSize: Math.max(14, title * 0.45) }}>
          <b className="set-number" style={{ fontSize: title }}>
            {row.number}
          </b>
          <div>
            <h3 style={{ fontSize: title }}>{row.title}</h3>
            <p>
              {row.key && (
                <>
                  <b>{row.key}</b> ·{' '}
                </>
              )}
              <b>{row.tempo}</b> · {row.meter} · {row.length}
              {row.vamps.length > 0 && <> · vamps: {row.vamps.join(', ')}</>}
            </p>
            {row.note && <p className="set-note">{row.note}</p>}
          </div>
        </section>
      ),
    })),
  }
}
