// One row of the preflight: its result as shape and word, what was found, what to do, and the button that does it.

import type { Result, Row } from '@glowchart/shared/preflight/row.ts'
import { Sign } from '../ui/signs.tsx'
import { carryOut, mendName } from './mending.ts'

export const resultWords = { good: 'Good', heed: 'Heed', stop: 'Stop', unknown: 'Cannot tell' } as const
const signs = { good: 'tick', heed: 'specs', stop: 'cross', unknown: 'dash' } as const

export const ResultSign = ({ result }: { result: Result }) => <Sign name={signs[result]} />

export function RowView({ row }: { row: Row }) {
  return (
    <li className={`preflight-row ${row.result}`} data-check={row.id} data-result={row.result} tabIndex={-1}>
      <span className="result">
        <ResultSign result={row.result} /> {resultWords[row.result]}
      </span>
      <h3>{row.checked}</h3>
      <div className="found">
        <p>{row.says}</p>
        {row.more && row.more.length > 0 && (
          <details>
            <summary>{row.more.length} more</summary>
            <ul>
              {row.more.map(line => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </details>
        )}
        {row.remedy && <p className="remedy">{row.remedy}</p>}
      </div>
      {row.mend && (
        <button type="button" className="btn outline" onClick={() => carryOut(row.mend!)}>
          {mendName(row.mend)}
        </button>
      )}
    </li>
  )
}
