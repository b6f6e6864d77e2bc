// Every box with its sockets, and how each went; choose one to go there.

import type { Run } from '@glowchart/shared/check/run.ts'
import type { Group, Station } from '@glowchart/shared/check/stations.ts'
import { useEffect, useRef } from 'react'
import { Sign } from '../ui/signs.tsx'
import { press } from './checking.ts'

export function Strip({ groups, run }: { groups: readonly Group[]; run: Run }) {
  const list = useRef<HTMLDivElement>(null)
  const at = run.trying === '' ? run.at : run.trying
  // biome-ignore lint/correctness/useExhaustiveDependencies: it follows the station.
  useEffect(() => {
    list.current?.querySelector('.now')?.scrollIntoView({ block: 'nearest', inline: 'center' })
  }, [at])
  return (
    <section ref={list} className="all" aria-label="Boxes and sockets">
      {groups.map(({ box, name, where, stations }) => (
        <div key={box ?? 'guests'} className="bx">
          <h2>
            <span className="badge" aria-hidden="true">
              {badgeOf(name)}
            </span>
            <span>
              <span className="box-name">{name}</span>
              {where && <small>{where}</small>}
            </span>
          </h2>
          {stations.map((station, i) => (
            <Socket key={station.key} station={station} number={station.label || `${i + 1}`} run={run} />
          ))}
        </div>
      ))}
    </section>
  )
}

/** “A” of “Box A”; the first letter of another name. */
export const badgeOf = (name: string): string => /^box (\S{1,2})$/i.exec(name)?.[1] ?? name.charAt(0)

function Socket({ station, number, run }: { station: Station; number: string; run: Run }) {
  const verdict = run.verdicts[station.key]
  const isNow = station.key === run.at && run.mode !== 'ready' && run.mode !== 'glow' && run.mode !== 'done'
  const isEmpty = station.fixture === null
  const state = isEmpty ? 'void' : verdict ? (verdict.passed ? 'ok' : 'no') : ''
  const says = isEmpty
    ? 'empty'
    : run.trying === station.key
      ? 'raised to try a plug'
      : isNow
        ? 'checking now'
        : verdict
          ? verdict.passed
            ? 'passed'
            : `failed: ${verdict.reason}`
          : 'to do'
  return (
    <button
      type="button"
      className={`sk ${state}${isNow ? ' now' : ''}${run.trying === station.key ? ' trying' : ''}`}
      aria-label={`${station.boxName}${station.label ? `, socket ${station.label}` : ''}, ${station.name}: ${says}`}
      aria-current={isNow ? 'step' : undefined}
      disabled={isEmpty}
      onClick={() =>
        press(
          run.mode === 'ready' || run.mode === 'done' || run.mode === 'glow'
            ? { do: 'start', at: station.key, verdicts: run.verdicts }
            : { do: 'go', at: station.key },
        )
      }
    >
      {verdict && !isEmpty && <Sign name={verdict.passed ? 'tick' : 'cross'} />}
      {number}
    </button>
  )
}
