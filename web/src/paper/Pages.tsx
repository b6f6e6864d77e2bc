// Sheets as pages of paper: their blocks are measured at the paper's own width, laid on pages, and drawn there.

import { useLayoutEffect, useRef, useState } from 'react'
import { BlockView } from './Blocks.tsx'
import { Measuring } from './measuring.ts'
import { type Measured, type Piece, pagesOf } from './pages.ts'
import type { Block, Sheet } from './sheet.ts'
import { contentHeight, contentWidth, heightPx, type PaperSize, widthPx } from './size.ts'

interface Props {
  sheet: Sheet
  size: PaperSize
  /** Px on the screen for each px of paper. The printer has its own. */
  scale: number
}

export function Pages({ sheet, size, scale }: Props) {
  const measure = useRef<HTMLDivElement>(null)
  const [laid, setLaid] = useState<{ sheet: Sheet; pages: Piece[][] } | null>(null)
  useLayoutEffect(() => {
    const lay = () => {
      if (!measure.current) return
      const blocks = measuredIn(measure.current, sheet.blocks)
      setLaid({ sheet, pages: pagesOf(blocks, contentHeight(size)) })
    }
    lay()
    // Before its typefaces are there, text has other heights.
    if (document.fonts.status === 'loading') void document.fonts.ready.then(lay)
  }, [sheet, size])
  const pages = laid?.sheet === sheet ? laid.pages : []
  return (
    <>
      <div className="paper-measure" data-theme="paper" aria-hidden="true" inert>
        <div ref={measure} className="sheet" style={{ width: contentWidth(size) }}>
          <Measuring value={true}>
            {sheet.blocks.map(block => (
              <BlockView key={block.key} block={block} />
            ))}
          </Measuring>
        </div>
      </div>
      {pages.map((pieces, i) => (
        <div
          // biome-ignore lint/suspicious/noArrayIndexKey: a page is its number.
          key={i}
          className="paper-frame"
          style={{ width: widthPx(size) * scale, height: heightPx(size) * scale }}
        >
          <article
            className="paper-page"
            data-theme="paper"
            data-size={size}
            aria-label={`${sheet.title}, page ${i + 1} of ${pages.length}`}
            style={{ transform: `scale(${scale})` }}
          >
            <header className="paper-head">
              <div>{sheet.left}</div>
              <h2 className={sheet.title.length > 24 ? 'long' : undefined}>{sheet.title}</h2>
              <div>{sheet.right}</div>
            </header>
            <div className="sheet">
              {pieces.map(piece => (
                <BlockView key={piece.block} block={sheet.blocks[piece.block]!} piece={piece} />
              ))}
            </div>
            <footer className="paper-foot">
              <span>Glowchart</span>
              <span>{sheet.foot}</span>
              <span>
                {i + 1} of {pages.length}
              </span>
            </footer>
          </article>
        </div>
      ))}
    </>
  )
}

function measuredIn(host: HTMLElement, blocks: readonly Block[]): Measured[] {
  return blocks.map((block, i): Measured => {
    const element = host.children[i]!
    const whole = element.getBoundingClientRect()
    if (block.kind === 'whole') return { ...block, height: whole.height }
    const rows = [...element.querySelectorAll('tbody tr')].map(row => row.getBoundingClientRect().height)
    const body = rows.reduce((sum, height) => sum + height, 0)
    const heads = block.rows.map(row => row.heads === true)
    return { ...block, head: whole.height - body, rows, heads }
  })
}
