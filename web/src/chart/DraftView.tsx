// A drag as it is drawn over the chart: the brackets where the cues would stand, and the nib that says where.

import type { Draft, Span } from './draft.ts'
import { barsInto, lineEnd, lineStart } from './lines.ts'
import type { Page, PlacedLine } from './page.ts'
import { spotOf } from './page.ts'
import { laneOf } from './rows.ts'
import type { Sweep } from './sweep.ts'

export function DraftView({ page, draft }: { page: Page; draft: Draft }) {
  return (
    <>
      <svg className="draft" aria-hidden="true" style={{ height: page.height }}>
        {page.lines.flatMap(at =>
          draft.spans.map((span, i) =>
            span.from < lineEnd(at.line) && span.to > lineStart(at.line) ? (
              // biome-ignore lint/suspicious/noArrayIndexKey: spans have no names, and all are drawn anew.
              <Bracket key={`${at.line.key}.${i}`} page={page} at={at} span={span} />
            ) : null,
          ),
        )}
      </svg>
      <Nib page={page} tick={draft.at} says={draft.says} />
    </>
  )
}

export function SweepView({ page, sweep }: { page: Page; sweep: Sweep }) {
  const spans = sweep.parts.map(part => ({ part, track: null, from: sweep.from, to: sweep.to }))
  const count = sweep.cues.length
  return (
    <>
      <svg className="draft" aria-hidden="true" style={{ height: page.height }}>
        {page.lines.flatMap(at =>
          spans.map(span => {
            const box = boxOf(page, at, span)
            return box ? <rect key={`${at.line.key}.${span.part}`} className="wash" {...box.rect} /> : null
          }),
        )}
      </svg>
      <Nib page={page} tick={sweep.to} says={count === 1 ? '1 cue' : `${count} cues`} />
    </>
  )
}

function Nib({ page, tick, says }: { page: Page; tick: number; says: string }) {
  const spot = spotOf(page, tick)
  if (!spot) return null
  return (
    <span className="nib drafted" role="status" style={{ left: spot.x, top: spot.at.fieldTop - 5 }}>
      {says}
    </span>
  )
}

function boxOf(page: Page, at: PlacedLine, span: Span) {
  const row = at.rows.find(r => r.part.part === span.part)
  if (!row || span.from >= lineEnd(at.line) || span.to <= lineStart(at.line)) return null
  const held = (tick: number) =>
    page.gutter + Math.min(at.line.bars, Math.max(0, barsInto(at.line, tick))) * page.barWidth
  const x = held(span.from)
  const lane = laneOf(row, span.track)
  const y = at.fieldTop + at.head + lane.y
  return { rect: { x, y, width: held(span.to) - x, height: lane.height }, held }
}

function Bracket({ page, at, span }: { page: Page; at: PlacedLine; span: Span }) {
  const box = boxOf(page, at, span)
  if (!box) return null
  const { x, y, width, height } = box.rect
  const foot = y + height
  const to = x + width
  const opens = span.from >= lineStart(at.line)
  const closes = span.to <= lineEnd(at.line)
  const hairpin = (tip: number, mouth: number) =>
    `M${mouth} ${y + 1}L${tip} ${y + height / 2}L${mouth} ${foot - 1}`
  return (
    <>
      <rect className="wash" {...box.rect} />
      {opens && <path d={`M${x + 6} ${y}H${x + 1}V${foot}h5`} />}
      {closes && <path d={`M${to - 6} ${y}H${to - 1}V${foot}h-5`} />}
      {opens && span.fadeIn ? <path d={hairpin(x, box.held(span.from + span.fadeIn))} /> : null}
      {closes && span.fadeOut ? <path d={hairpin(to, box.held(span.to - span.fadeOut))} /> : null}
    </>
  )
}
