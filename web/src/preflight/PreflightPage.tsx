// The place before doors: every check in one list, and beside it the log of the night.

import { useCallback, useEffect, useState } from 'react'
import { useDocument } from '../document/document.ts'
import { Head } from '../Head.tsx'
import type { Sheet } from '../paper/sheet.ts'
import { checkSheetOf } from './CheckSheet.tsx'
import { Checks } from './Checks.tsx'
import { decodeAll, stopDecoding } from './decoding.ts'
import { useJudged } from './judging.ts'
import { NightLog } from './NightLog.tsx'
import { PrintSheet } from './PrintSheet.tsx'
import { useServerFacts } from './server-facts.ts'
import './preflight.css'

const tabs = [
  ['checks', 'Checks'],
  ['night', 'Log of the night'],
] as const

export default function PreflightPage() {
  const show = useDocument(s => s.show)
  const { facts, again } = useServerFacts()
  const judging = useJudged(facts)
  const [tab, setTab] = useState<'checks' | 'night'>('checks')
  const [sheet, setSheet] = useState<Sheet | null>(null)
  const printed = useCallback(() => setSheet(null), [])
  useEffect(() => {
    if (facts) decodeAll(facts.recordings)
  }, [facts])
  useEffect(() => stopDecoding, [])
  return (
    <div className="preflight">
      <Head />
      <div className="preflight-head">
        <h1>{tab === 'checks' ? 'Before doors' : 'Log of the night'}</h1>
        <nav aria-label="Before and after">
          {tabs.map(([id, name]) => (
            <button
              key={id}
              type="button"
              className="btn quiet"
              aria-pressed={tab === id}
              onClick={() => setTab(id)}
            >
              {name}
            </button>
          ))}
        </nav>
      </div>
      {tab === 'night' ? (
        <NightLog band={show?.name ?? ''} onPrint={setSheet} />
      ) : judging ? (
        <Checks
          {...judging}
          onAgain={again}
          onPrint={() => setSheet(checkSheetOf(judging, new Date().toLocaleString()))}
        />
      ) : (
        <p className="preflight-waits">Waiting for Glowchart to answer.</p>
      )}
      {sheet && <PrintSheet sheet={sheet} onDone={printed} />}
    </div>
  )
}
