// The log of the night: what happened, song by song, with times; faults alone on a tick, and ways to take it along.

import type { NightEvent } from '@glowchart/shared/night/event.ts'
import { chaptersOf, clockText, isTrouble } from '@glowchart/shared/night/report.ts'
import { useMemo, useState } from 'react'
import type { Sheet } from '../paper/sheet.ts'
import { Sign } from '../ui/signs.tsx'
import { nightSheetOf } from './NightSheet.tsx'
import { type Nights, useNights } from './nights.ts'

export function NightLog({ band, onPrint }: { band: string; onPrint: (sheet: Sheet) => void }) {
  const [wanted, setWanted] = useState<string | null>(null)
  const [troubles, setTroubles] = useState(false)
  const { nights, night } = useNights(wanted)
  const chapters = useMemo(
    () => (night ? chaptersOf(troubles ? night.events.filter(isTrouble) : night.events) : []),
    [night, troubles],
  )
  if (!nights) return <p className="preflight-waits">Reading the log.</p>
  if (nights.evenings.length === 0)
    return <p className="preflight-waits">Nothing has been written down yet.</p>
  const faults = night?.events.filter(event => event.fault).length ?? 0
  return (
    <section aria-label="Log of the night" className="night">
      <div className="preflight-sum">
        <label className="field">
          Night of
          <select
            value={night?.evening ?? nights.evenings[0]}
            onChange={event => setWanted(event.target.value)}
          >
            {nights.evenings.map(evening => (
              <option key={evening} value={evening}>
                {evening === nights.tonight ? `Tonight, ${evening}` : evening}
              </option>
            ))}
          </select>
        </label>
        {night && (
          <p>
            {night.events.length} lines,{' '}
            {faults === 0 ? 'no faults' : faults === 1 ? '1 fault' : `${faults} faults`}
            {night.damaged > 0 && `; ${night.damaged} could not be read`}
          </p>
        )}
        <div className="acts">
          <label>
            <input type="checkbox" checked={troubles} onChange={event => setTroubles(event.target.checked)} />
            Only trouble
          </label>
          {night && (
            <>
              <a className="btn" href={`/api/nights/${night.evening}?as=text`} download>
                Text
              </a>
              <a className="btn" href={`/api/nights/${night.evening}?as=csv`} download>
                Table (CSV)
              </a>
              <button
                type="button"
                className="btn"
                onClick={() => onPrint(nightSheetOf(night, band, nights.offset))}
              >
                Print
              </button>
            </>
          )}
        </div>
      </div>
      {night && chapters.length === 0 && <p>Nothing to show: no trouble was written down.</p>}
      {chapters.map(({ song, events }) => (
        <section key={`${events[0]!.at} ${events[0]!.says}`} className="chapter">
          <h2>{song ?? 'No song'}</h2>
          <ol>
            {events.map((event, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: lines are only ever added at the end.
              <Line key={i} event={event} nights={nights} />
            ))}
          </ol>
        </section>
      ))}
    </section>
  )
}

function Line({ event, nights }: { event: NightEvent; nights: Nights }) {
  return (
    <li className={event.fault ? 'fault' : undefined}>
      <time dateTime={event.at}>{clockText(event.at, nights.offset)}</time>
      <span className="trouble">
        {event.fault && (
          <>
            <Sign name="specs" />
            <span className="sr">Fault: </span>
          </>
        )}
      </span>
      <span>{event.says}</span>
      <small>{event.bar !== undefined && `bar ${event.bar}`}</small>
    </li>
  )
}
