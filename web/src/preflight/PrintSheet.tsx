// A sheet that is drawn for the printer alone: it opens the print dialogue once its pages are laid, and goes again.

import { useEffect } from 'react'
import { Pages } from '../paper/Pages.tsx'
import { usePaper } from '../paper/preferences.ts'
import type { Sheet } from '../paper/sheet.ts'
import '../paper/paper.css'
import '../paper/sheets/sheets.css'

export function PrintSheet({ sheet, onDone }: { sheet: Sheet; onDone: () => void }) {
  const size = usePaper(s => s.size)
  useEffect(() => {
    let ended = false
    const gone = () => !ended && onDone()
    // Two frames: the sheet is measured in the first, and its pages stand in the second.
    const print = async () => {
      await document.fonts.ready
      await frame()
      await frame()
      if (!ended) window.print()
    }
    window.addEventListener('afterprint', gone)
    void print()
    return () => {
      ended = true
      window.removeEventListener('afterprint', gone)
    }
  }, [onDone])
  return (
    <div className="paper print-only" aria-hidden="true" inert>
      <div className="paper-preview">
        <Pages sheet={sheet} size={size} scale={1} />
      </div>
    </div>
  )
}

const frame = (): Promise<number> => new Promise(resolve => requestAnimationFrame(resolve))
