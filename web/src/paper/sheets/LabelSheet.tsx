// Labels to cut out: a large one a box with its switches drawn, and a flag for each end of every cable.

import { type BoxLabel, type CableLabel, labelsOf } from '@glowchart/shared/paper/labels.ts'
import { headWords, type PaperContext } from '../context.ts'
import type { Block, Sheet } from '../sheet.ts'

const CABLES_A_ROW = 3

export function labelSheetOf(context: PaperContext): Sheet {
  const { boxes, cables } = labelsOf(context.rig, context.kit)
  const blocks: Block[] = []
  for (let i = 0; i < boxes.length; i += 2) {
    const row = boxes.slice(i, i + 2)
    blocks.push({
      kind: 'whole',
      key: row.map(label => label.badge).join('+'),
      node: (
        <div className="labels two">
          {row.map(label => (
            <BoxLabelView key={label.badge} label={label} />
          ))}
        </div>
      ),
    })
  }
  for (let i = 0; i < cables.length; i += CABLES_A_ROW) {
    const row = cables.slice(i, i + CABLES_A_ROW)
    blocks.push({
      kind: 'whole',
      key: row.map(label => `${label.plug} ${label.end}`).join('+'),
      node: (
        <div className="labels three">
          {row.map(label => (
            <CableLabelView key={`${label.plug} ${label.end}`} label={label} />
          ))}
        </div>
      ),
    })
  }
  const [band] = headWords(context)
  return {
    id: 'labels',
    title: 'Labels',
    left: (
      <>
        <b>{band}</b>
        <br />
        {context.kit.name}
      </>
    ),
    right: (
      <>
        {boxes.length} boxes
        <br />
        {cables.length / 2} cables, both ends
      </>
    ),
    foot: 'Cut along the dashes; fold cable labels round the cable at the dotted line.',
    blocks,
  }
}

function BoxLabelView({ label }: { label: BoxLabel }) {
  return (
    <section className="label box-label">
      <div className="label-badge">{label.badge}</div>
      <div>
        <h3>{label.name}</h3>
        <p>
          Universe <b>{label.universe}</b>
        </p>
        <p>
          Start address <b>{label.address}</b>, takes {label.addresses}
        </p>
        <p>
          Dials <b className="dials">{label.dials.join(' ')}</b>
        </p>
      </div>
      <div className="label-switches">
        <Switches on={label.switches} says="Switches, by their sum" />
        <Switches on={label.switchesAndOne} says="where all off is address 1" />
      </div>
    </section>
  )
}

/** Nine switches as they stand on the decoder: the dark half is where the lever is, up is on. */
function Switches({ on, says }: { on: readonly boolean[] | null; says: string }) {
  if (!on) return <p className="switches">{says}: these switches cannot say it</p>
  const names = on.flatMap((isOn, i) => (isOn ? [i + 1] : []))
  return (
    <figure className="switches">
      <svg
        width="148"
        height="40"
        viewBox="0 0 148 40"
        role="img"
        aria-label={`Switches on: ${names.join(', ') || 'none'}`}
      >
        <rect x=".7" y=".7" width="146.6" height="38.6" fill="none" stroke="var(--bone)" strokeWidth="1.2" />
        {on.map((isOn, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a switch is its number.
          <g key={i}>
            <rect
              x={5 + i * 15.5}
              y="4"
              width="11"
              height="20"
              fill="none"
              stroke="var(--bone-2)"
              strokeWidth=".9"
            />
            <rect x={6.5 + i * 15.5} y={isOn ? 5.5 : 14.5} width="8" height="8" fill="var(--bone)" />
            <text x={10.5 + i * 15.5} y="36" textAnchor="middle" className="plan-socket">
              {i + 1}
            </text>
          </g>
        ))}
      </svg>
      <figcaption>
        {says}: <b>{names.length > 0 ? `${names.join(', ')} on` : 'all off'}</b>
      </figcaption>
    </figure>
  )
}

function CableLabelView({ label }: { label: CableLabel }) {
  const half = (
    <div>
      <b className="label-plug">{label.plug}</b>
      <span>
        <b>{label.fixture}</b>
        <br />
        {label.cable}
        <br />
        {label.end}
        {label.tape && `, ${label.tape} tape`}
      </span>
    </div>
  )
  return (
    <section className="label cable-label">
      {half}
      {half}
    </section>
  )
}
