// The place before doors: every check in one list, and beside it the log of the night.

import { useCallback, useEffect, useState } from 'react'
import { useDocument } from '../document/document.ts'
import { Head } from '../Head.tsx'
import type { Sheet } from '../paper/sheet.ts'
import { checkSheetOf } from './CheckSheet.tsx'
import { Checks } from './Checks.tsx'
import { decodeAll, stopDecoding } from './decoding.ts'
import { useJudged } from './judging.ts'
import { PrintSheet } from './PrintSheet.tsx'
import { useServerFacts } from './server-facts.ts'
import './preflight.css'

export default function PreflightPage() {
  const show = useDocument(s => s.show)
  const { facts, again } = useServerFacts()
  const groups = useJudged(facts)
  const [sheet, setSheet] = useState<Sheet | null>(null)
  const printed = useCallback(() => setSheet(null), [])
  useEffect(() => {
    if (facts) decodeAll(facts.recordings)
  }, [facts])
  useEffect(() => stopDecoding, [])
  return (
    <div className="preflight">
      <Head />
      <h1>Before doors</h1>
      {groups && show ? (
        <Checks
          groups={groups}
          onAgain={again}
          onPrint={() => setSheet(checkSheetOf(groups, show, new Date().toLocaleString()))}
        />
      ) : (
        <p className="preflight-waits">Waiting for Glowchart to answer.</p>
      )}
      {sheet && <PrintSheet sheet={sheet} onDone={printed} />}
    </div>
  )
}
