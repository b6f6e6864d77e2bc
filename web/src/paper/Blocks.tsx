// Draws the pieces of a sheet's blocks: the same for measuring, for the preview and for the printer.

import type { Piece } from './pages.ts'
import type { Block, TableBlock } from './sheet.ts'

export function BlockView({ block, piece }: { block: Block; piece?: Piece }) {
  if (block.kind === 'whole') {
    return (
      <div className="block" data-block={block.key}>
        {block.node}
      </div>
    )
  }
  return <TableView block={block} from={piece?.from ?? 0} to={piece?.to ?? block.rows.length} />
}

function TableView({ block, from, to }: { block: TableBlock; from: number; to: number }) {
  return (
    <div className="block" data-block={block.key}>
      <table>
        <caption>
          {block.caption}
          {from > 0 && <small className="goes-on"> goes on</small>}
        </caption>
        <colgroup>
          {block.columns.map((column, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name and never move.
            <col key={i} style={column.width === '*' ? undefined : { width: column.width }} />
          ))}
        </colgroup>
        <thead>
          <tr>
            {block.columns.map((column, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the same.
              <th key={i} scope="col" className={column.right ? 'r' : undefined}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {block.rows.slice(from, to).map(row => (
            <tr key={row.key} className={row.heads ? 'heads' : undefined}>
              {row.cells.map((cell, i) => (
                <td
                  // biome-ignore lint/suspicious/noArrayIndexKey: the same.
                  key={i}
                  colSpan={row.cells.length === 1 ? block.columns.length : undefined}
                  className={block.columns[i]?.right ? 'r' : undefined}
                >
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** An empty box to tick. */
export const Tick = () => <span className="tick" role="img" aria-label="To tick" />
