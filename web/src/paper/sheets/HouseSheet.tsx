// The sheet for the house: plot, mains, outlets, network, the notice on flashing light, and whom to call.

import { ADVISORY, CABLE_NOTICE, FLASH_NOTICE, MAINS_NOTICE } from '@glowchart/shared/advice/safety.ts'
import { flashNotice } from '@glowchart/shared/paper/flash-notice.ts'
import { type House, houseSheet } from '@glowchart/shared/paper/house.ts'
import { ampsText, wattsText } from '@glowchart/shared/paper/words.ts'
import { headWords, type PaperContext } from '../context.ts'
import { Plan } from '../plan/Plan.tsx'
import { contactFields } from '../preferences.ts'
import type { Block, Sheet } from '../sheet.ts'
import { contentWidth } from '../size.ts'

export function houseSheetOf(context: PaperContext): Sheet {
  const { rig, show, kit, size, contact, flashes } = context
  const house = houseSheet(rig, show, kit)
  const [band, where] = headWords(context)
  const notice = flashes && flashNotice(flashes, kit.venue)
  const sources = [...new Set((flashes ?? []).flatMap(one => one.source ?? []))]
  const blocks: Block[] = [
    {
      kind: 'whole',
      key: 'contact',
      node: (
        <dl className="contact">
          {contactFields.map(([id, name]) => (
            <div key={id}>
              <dt>{name}</dt>
              <dd>{contact[id]}</dd>
            </div>
          ))}
        </dl>
      ),
    },
    { kind: 'whole', key: 'plan', node: <Plan rig={rig} kit={kit} width={contentWidth(size)} most={330} /> },
    mainsTable(house, context),
    { kind: 'whole', key: 'needs', node: <Needs house={house} /> },
    networkTable(house),
    {
      kind: 'whole',
      key: 'flash',
      node: (
        <section className="caution">
          <h3>Flashing light</h3>
          <p>
            <b>{FLASH_NOTICE}</b>
          </p>
          {notice === null && <p>The songs are being read.</p>}
          {notice?.audience && (
            <p className="audience">
              <b>Notice for the audience:</b> “{notice.audience}”
            </p>
          )}
          {notice && (
            <p>
              {notice.found} {notice.limit}
            </p>
          )}
          <p>
            <small>{notice?.size}</small>
          </p>
          <p>
            <small>
              {sources.length > 0
                ? `Limits: ${sources.join(' · ')}.`
                : 'Limits: 3 flashes a second: W3C WCAG 2.2 SC 2.3.1, ITU-R BT.1702-3; adapted: none of these standards covers stage lamps.'}
            </small>
          </p>
        </section>
      ),
    },
  ]
  if (flashes && flashes.length > 0) {
    blocks.push({
      kind: 'table',
      key: 'flashes',
      caption: 'Where it flashes faster, or for long',
      columns: [{ head: 'Song, bars, how fast', width: '*' }],
      rows: flashes.map((one, i) => ({ key: `${i}`, cells: [one.says] })),
    })
  }
  blocks.push({
    kind: 'whole',
    key: 'cautions',
    node: (
      <section className="caution">
        <h3>Cautions</h3>
        <p>{MAINS_NOTICE}</p>
        <p>{CABLE_NOTICE}</p>
        <p>{ADVISORY}</p>
      </section>
    ),
  })
  return {
    id: 'house',
    title: 'For the house',
    left: (
      <>
        <b>{band}</b>
        <br />
        {where}
      </>
    ),
    right: (
      <>
        {wattsText(house.mainsWatts)} from the mains
        <br />
        {house.outlets} outlets
      </>
    ),
    foot: 'Figures are estimates; local codes and the rules of the house come first.',
    blocks,
  }
}

function mainsTable(house: House, { peaks, rig, kit }: PaperContext): Block {
  const ids = Object.keys(kit.boxes).filter(id => rig.boxes[id])
  const rows = house.mains.map((row, i) => {
    const peak = peaks?.[ids[i]!]
    const { supply } = rig.boxes[ids[i]!]!
    return {
      key: ids[i]!,
      cells: [
        <b key="badge">{row.badge}</b>,
        row.name,
        peak ? wattsText(peak.amps * supply.volts) : 'being measured',
        wattsText(row.watts),
        <b key="amps">
          {ampsText(row.mainsAmps)} at {row.mainsVolts} V
        </b>,
        wattsText(row.rated),
      ],
    }
  })
  return {
    kind: 'table',
    key: 'mains',
    caption: 'Mains',
    columns: [
      { head: '', width: '28px' },
      { head: 'Box', width: '*' },
      { head: 'Brightest of the songs', width: '128px', right: true },
      { head: 'Everything on', width: '96px', right: true },
      { head: 'Then from the mains', width: '128px', right: true },
      { head: 'Supply may give', width: '104px', right: true },
    ],
    rows: [
      ...rows,
      {
        key: 'all',
        cells: [
          '',
          <b key="all">All boxes</b>,
          peaks
            ? wattsText(
                ids.reduce((sum, id) => sum + (peaks[id]?.amps ?? 0) * rig.boxes[id]!.supply.volts, 0),
              )
            : '',
          wattsText(house.watts),
          <b key="watts">{wattsText(house.mainsWatts)}</b>,
          '',
        ],
      },
    ],
  }
}

function Needs({ house }: { house: House }) {
  return (
    <section>
      <h3>What we need</h3>
      <ul className="plain">
        <li>
          <b>{house.outlets} mains outlets</b>
          {`, one a box${house.guests > 0 ? ', one a rented light' : ''}: sixteen lights from two boxes need two. `}
          Supplies that are switched on together may draw many times this for a moment.
        </li>
        <li>
          <b>
            {house.dmxBetween} DMX {house.dmxBetween === 1 ? 'cable' : 'cables'} between the boxes
          </b>
          , and {house.dmxCables - house.dmxBetween} from the node. (Common practice, no source.)
        </li>
        {house.guests > 0 && (
          <li>What rented lights draw is not in these figures: read it on their plates.</li>
        )}
      </ul>
    </section>
  )
}

function networkTable(house: House): Block {
  return {
    kind: 'table',
    key: 'network',
    caption: (
      <h3>
        Network
        <small>{house.rate} frames a second, from our own laptop</small>
      </h3>
    ),
    columns: [
      { head: 'Universe', width: '70px' },
      { head: 'Addresses used', width: '190px' },
      { head: 'Sent as', width: '*' },
    ],
    rows: house.universes.map(one => ({
      key: `${one.universe}`,
      cells: [<b key="n">{one.universe}</b>, one.slots, one.ways.join('; ') || 'no node chosen yet'],
    })),
  }
}
