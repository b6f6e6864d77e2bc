// The preflight itself: what stops, what to heed, and every check below, with how far the reading of the songs is.

import type { Group } from '@glowchart/shared/preflight/judge.ts'
import { type Judged, judgedWords } from '@glowchart/shared/preflight/judged.ts'
import { type Result, worst } from '@glowchart/shared/preflight/row.ts'
import { useState } from 'react'
import { Reading } from '../advice/Reading.tsx'
import { say } from '../document/session.ts'
import { ResultSign, RowView, resultWords } from './RowView.tsx'

const results: readonly Result[] = ['stop', 'heed', 'unknown', 'good']

interface Props {
  judged: Judged
  groups: readonly Group[]
  onAgain: () => void
  onPrint: () => void
}

export function Checks({ judged, groups, onAgain, onPrint }: Props) {
  const [hidesGood, setHidesGood] = useState(false)
  const rows = groups.flatMap(group => group.rows)
  const all = worst(rows.map(row => row.result))
  const count = (result: Result) => rows.filter(row => row.result === result).length
  return (
    <>
      <section className="preflight-sum" aria-label="In short">
        <p className={`verdict ${all}`}>
          <ResultSign result={all} />
          {all === 'stop'
            ? 'Not ready for doors'
            : all === 'heed'
              ? 'Ready, with something to heed'
              : all === 'unknown'
                ? 'Nothing found that is wrong'
                : 'Ready'}
        </p>
        <ul>
          {results.map(result => (
            <li key={result} className={result}>
              <button
                type="button"
                className="btn quiet"
                aria-disabled={count(result) === 0}
                title="To the first of them"
                onClick={() => goToFirst(result)}
              >
                <b className="num">{count(result)}</b> {resultWords[result].toLowerCase()}
              </button>
            </li>
          ))}
        </ul>
        <div className="acts">
          <label>
            <input
              type="checkbox"
              checked={hidesGood}
              onChange={event => setHidesGood(event.target.checked)}
            />
            Only what is not good
          </label>
          <button
            type="button"
            className="btn"
            onClick={() => {
              onAgain()
              say('Checking again')
            }}
          >
            Check again
          </button>
          <button type="button" className="btn" onClick={onPrint}>
            Print
          </button>
        </div>
        <p className="judged">{judgedWords(judged)}</p>
        {!judged.running && <Reading />}
      </section>
      {groups.map(({ name, rows: own }) => {
        const shown = hidesGood ? own.filter(row => row.result !== 'good') : own
        if (shown.length === 0) return null
        return (
          <section key={name} className="preflight-group" aria-label={name}>
            <h2>{name}</h2>
            <ul>
              {shown.map(row => (
                <RowView key={row.id} row={row} />
              ))}
            </ul>
          </section>
        )
      })}
    </>
  )
}

/** Its row comes into sight, and its button (or its list) has the focus. */
function goToFirst(result: Result): void {
  const row = document.querySelector<HTMLElement>(`.preflight-row[data-result="${result}"]`)
  row?.scrollIntoView({ block: 'center' })
  row?.focus({ preventScroll: true })
}
