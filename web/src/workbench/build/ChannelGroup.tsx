// The channels of a build: a colour order with its cells where that says it, else every slot by itself.

import { channelsOfPlain, colourOrders, type Plain, plainOf } from '@glowchart/shared/rig/build-order.ts'
import { slotsOf } from '@glowchart/shared/rig/channels.ts'
import type { Build } from '@glowchart/shared/rig/schema.ts'
import { useState } from 'react'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'
import { ChannelTable } from './ChannelTable.tsx'
import { changeBuild } from './change.ts'
import { orderWords } from './words.ts'

export function ChannelGroup({ id, build }: { id: string; build: Build }) {
  const plain = plainOf(build)
  const [byHand, setByHand] = useState(false)
  const slots = slotsOf(build.channels)
  const change = (what: string, next: Plain) => {
    if (channelsOfPlain(next).length > 512) return
    void changeBuild(id, build, what, { channels: channelsOfPlain(next), cells: next.cells })
  }
  return (
    <section className="group" aria-labelledby="channels-title">
      <h3 id="channels-title">
        Channels <small>{slots === 1 ? '1 slot' : `${slots} slots`}</small>
      </h3>
      {plain && !byHand ? (
        <>
          <div className="row">
            <Pick
              label="Colour order"
              value={plain.order}
              options={colourOrders.map(order => [order, orderWords(order)])}
              onChange={order => change('colour order', { ...plain, order })}
            />
            <Measure
              label="Cells"
              whole
              least={1}
              most={mostCells(plain)}
              value={plain.cells}
              onChange={cells => change('cells', { ...plain, cells })}
            />
            <Pick
              label="Bits a channel"
              value={plain.bits === 8 ? '8' : '16'}
              options={[
                ['8', '8'],
                ['16', '16'],
              ]}
              onChange={bits => change('bits', { ...plain, bits: bits === '8' ? 8 : 16 })}
            />
          </div>
          <div className="row checks">
            <label>
              <input
                type="checkbox"
                checked={plain.white}
                onChange={event => change('white', { ...plain, white: event.target.checked })}
              />
              White after the colours
            </label>
            <label>
              <input
                type="checkbox"
                checked={plain.intensity}
                onChange={event => change('dimmer', { ...plain, intensity: event.target.checked })}
              />
              A dimmer first
            </label>
          </div>
          <button type="button" className="word" onClick={() => setByHand(true)}>
            Write every slot by hand
          </button>
        </>
      ) : (
        <>
          <ChannelTable id={id} build={build} />
          {plain && (
            <button type="button" className="word" onClick={() => setByHand(false)}>
              Back to the colour order
            </button>
          )}
        </>
      )}
      <ResponseRow id={id} build={build} />
    </section>
  )
}

/** Cells whose channels still fit into the 512 slots of a universe. */
function mostCells(plain: Plain): number {
  const each = (plain.white ? 4 : 3) * (plain.bits / 8)
  return Math.min(170, Math.floor((512 - (plain.intensity ? plain.bits / 8 : 0)) / each))
}

function ResponseRow({ id, build }: { id: string; build: Build }) {
  const { response, whiteBalance } = build
  const colours = ['red', 'green', 'blue'] as const
  return (
    <>
      <div className="row">
        <Pick
          label="Response"
          value={response.curve}
          options={[
            ['linear', 'Light follows the level'],
            ['gamma', 'A curve of its own'],
          ]}
          onChange={curve =>
            changeBuild(id, build, 'response', {
              response: curve === 'linear' ? { curve } : { curve, gamma: 2.2 },
            })
          }
        />
        {response.curve === 'gamma' && (
          <Measure
            label="Light is the level to the power of"
            least={1}
            most={4}
            value={response.gamma}
            onChange={gamma => changeBuild(id, build, 'response', { response: { curve: 'gamma', gamma } })}
          />
        )}
      </div>
      <fieldset className="row">
        <legend>White balance: full white is sent as</legend>
        {colours.map((colour, i) => (
          <Measure
            key={colour}
            label={colour[0]!.toUpperCase() + colour.slice(1)}
            unit="%"
            least={0}
            most={100}
            value={whiteBalance[i]! * 100}
            onChange={percent =>
              changeBuild(id, build, 'white balance', {
                whiteBalance: whiteBalance.with(i, percent / 100) as Build['whiteBalance'],
              })
            }
          />
        ))}
      </fieldset>
    </>
  )
}
