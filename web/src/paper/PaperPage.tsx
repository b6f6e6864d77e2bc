// Paper: the sheets in a list, the chosen one as pages, and one press that prints it through the browser.

import { isOnFlashes } from '@glowchart/shared/paper/flash-notice.ts'
import { songsTonight } from '@glowchart/shared/preflight/set.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { useAdvice } from '../advice/advising.ts'
import { useDocument } from '../document/document.ts'
import { Head } from '../Head.tsx'
import { type Brightest, brightestOf } from '../rig/peaks/brightest.ts'
import { startMetering, usePeaks } from '../rig/peaks/peaks.ts'
import type { PaperContext } from './context.ts'
import { emptyInkwell, fillInkwell, useInk } from './ink/inkwell.ts'
import { Pages } from './Pages.tsx'
import { contactFields, usePaper } from './preferences.ts'
import { SheetList } from './SheetList.tsx'
import type { Sheet } from './sheet.ts'
import { entriesOf, sheetsOf } from './sheets.ts'
import { type PaperSize, papers, widthPx } from './size.ts'
import './paper.css'
import './sheets/sheets.css'

/** An edit by another page waits so long for the next one before the paper is laid anew, ms. */
const PAUSE = 500

export default function PaperPage() {
  const documents = useSettled()
  const size = usePaper(s => s.size)
  const contact = usePaper(s => s.contact)
  const waiting = useInk(s => s.waiting)
  const failed = useInk(s => s.failed)
  const context = useContextOf(documents)
  const [chosen, choose] = useState('patch')
  const entries = useMemo(() => (context ? entriesOf(context) : []), [context])
  const wished = useMemo(() => (context ? sheetsOf(context, chosen) : []), [context, chosen])
  // What was chosen may be gone: a song, a build.
  const shown = wished.length > 0 ? chosen : 'patch'
  const sheets = useMemo(
    () => (wished.length > 0 || !context ? wished : sheetsOf(context, 'patch')),
    [wished, context],
  )
  useEffect(startMetering, [])
  const isReady = context?.peaks != null && context.flashes !== null && waiting === 0
  return (
    <div className="paper" data-ready={isReady}>
      <header className="paper-bar">
        <Head />
      </header>
      <aside className="paper-side">
        <h1>Paper</h1>
        <SheetList entries={entries} shown={shown} onChoose={choose} />
        <fieldset className="paper-sizes">
          <legend>Size</legend>
          {(Object.keys(papers) as PaperSize[]).map(id => (
            <label key={id}>
              <input
                type="radio"
                name="paper-size"
                checked={size === id}
                onChange={() => usePaper.setState({ size: id })}
              />
              {papers[id].name}
            </label>
          ))}
        </fieldset>
        <details className="paper-contact">
          <summary>For the head and the house</summary>
          {contactFields.map(([id, name]) => (
            <label key={id} className="field">
              {name}
              <input
                value={contact[id]}
                maxLength={80}
                onChange={event => usePaper.setState({ contact: { ...contact, [id]: event.target.value } })}
              />
            </label>
          ))}
        </details>
        <div className="paper-print">
          <button
            type="button"
            className="btn go"
            aria-disabled={!isReady}
            title={isReady ? undefined : 'The light is being drawn'}
            onClick={() => isReady && window.print()}
          >
            Print
          </button>
          <p role="status">
            {failed || (isReady ? '' : waiting > 0 ? `Drawing: ${waiting} lines left` : 'Reading the songs')}
          </p>
        </div>
      </aside>
      <Preview sheets={sheets} size={size} />
    </div>
  )
}

function Preview({ sheets, size }: { sheets: readonly Sheet[]; size: PaperSize }) {
  const room = useRef<HTMLElement>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    const element = room.current
    if (!element) return
    const watch = new ResizeObserver(() => setWidth(element.clientWidth))
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  const scale = Math.min(1.15, Math.max(0.2, (width - 48) / widthPx(size)))
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and the keyboard must be able to.
    <section ref={room} className="paper-preview" aria-label="Preview" tabIndex={0}>
      {width > 0 && sheets.map(sheet => <Pages key={sheet.id} sheet={sheet} size={size} scale={scale} />)}
    </section>
  )
}

/** The documents once edits have paused; the worker has them then. */
function useSettled(): Documents | null {
  const rig = useDocument(s => s.rig)
  const show = useDocument(s => s.show)
  const [settled, settle] = useState<Documents | null>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is settled is no reason to settle again.
  useEffect(() => {
    if (!rig || !show) return
    const take = () => {
      fillInkwell({ rig, show })
      settle({ rig, show })
    }
    const timer = setTimeout(take, settled ? PAUSE : 0)
    return () => clearTimeout(timer)
  }, [rig, show])
  useEffect(() => emptyInkwell, [])
  return settled
}

function useContextOf(documents: Documents | null): PaperContext | null {
  const size = usePaper(s => s.size)
  const contact = usePaper(s => s.contact)
  const metered = usePeaks(s => s.songs)
  const left = usePeaks(s => s.left)
  const advice = useAdvice(s => s.songs)
  return useMemo(() => {
    const kit = documents?.show.kits[documents.show.tonight]
    if (!documents || !kit) return null
    const { rig, show } = documents
    const tonight = songsTonight(show)
    const isMetered = left === 0 && show.songOrder.every(song => metered[song])
    const peaks = Object.keys(kit.boxes).flatMap((box): [string, Brightest][] => {
      const peak = brightestOf(metered, show.songOrder, box)
      return peak ? [[box, peak]] : []
    })
    return {
      rig,
      show,
      kit,
      size,
      contact,
      peaks: isMetered ? Object.fromEntries(peaks) : null,
      flashes: tonight.every(song => advice[song])
        ? tonight.flatMap(song => (advice[song] ?? []).filter(isOnFlashes))
        : null,
    }
  }, [documents, size, contact, metered, left, advice])
}
