// Every channel of a build by itself, with its slot numbers: what it does, its cell, or where it is parked.

import type { Build, Channel } from '@glowchart/shared/rig/schema.ts'
import { NameField } from '../../ui/NameField.tsx'
import { Sign } from '../../ui/signs.tsx'
import { Measure } from '../Measure.tsx'
import { Pick } from '../Pick.tsx'
import { changeBuild } from './change.ts'
import { channelWords } from './words.ts'

const does = Object.keys(channelWords) as Channel['does'][]

/** The slot numbers that each channel takes, counted from 1: "3", or "3–4" at 16 bits. */
export function slotNumbers(channels: readonly Channel[]): string[] {
  let next = 1
  return channels.map(({ bits }) => {
    const first = next
    next += bits / 8
    return bits === 8 ? `${first}` : `${first}–${first + 1}`
  })
}

/** The channel doing something else; what it had in common stays. */
function doing(channel: Channel, to: Channel['does']): Channel {
  const { bits } = channel
  if (to === 'intensity') return { does: to, bits }
  if (to === 'fixed') return { does: to, value: 0, bits }
  return { does: to, cell: 'cell' in channel ? channel.cell : 0, bits }
}

export function ChannelTable({ id, build }: { id: string; build: Build }) {
  const { channels } = build
  const change = (what: string, next: Build['channels']) => {
    const cells = Math.max(1, ...next.map(channel => ('cell' in channel ? channel.cell + 1 : 1)))
    return changeBuild(id, build, what, { channels: next, cells })
  }
  const set = (i: number, channel: Channel) => change(`channel ${i + 1}`, channels.with(i, channel))
  const move = (i: number, by: number) => {
    const rest = channels.toSpliced(i, 1)
    void change('order of channels', rest.toSpliced(i + by, 0, channels[i]!))
  }
  const numbers = slotNumbers(channels)
  const room = channels.reduce((sum, { bits }) => sum + bits / 8, 0) < 512
  return (
    <>
      <table className="channels">
        <thead>
          <tr>
            <th scope="col">Slot</th>
            <th scope="col">Does</th>
            <th scope="col">Cell, or where it is parked</th>
            <th scope="col">Bits</th>
            <th scope="col">
              <span className="sr">Order</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {channels.map((channel, i) => (
            // Channels have no ids; their place is what they are.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above.
            <tr key={i}>
              <th scope="row" className="score">
                {numbers[i]}
              </th>
              <td>
                <Pick
                  bare
                  label={`Slot ${numbers[i]} does`}
                  value={channel.does}
                  options={does.map(one => [one, channelWords[one]])}
                  onChange={to => set(i, doing(channel, to))}
                />
              </td>
              <td className="what">
                {'cell' in channel && (
                  <Measure
                    bare
                    label={`Cell of slot ${numbers[i]}`}
                    whole
                    least={1}
                    most={170}
                    value={channel.cell + 1}
                    onChange={cell => set(i, { ...channel, cell: cell - 1 })}
                  />
                )}
                {channel.does === 'fixed' && (
                  <>
                    <Measure
                      bare
                      label={`Slot ${numbers[i]} stands at`}
                      unit="%"
                      least={0}
                      most={100}
                      value={channel.value * 100}
                      onChange={percent => set(i, { ...channel, value: percent / 100 })}
                    />
                    <NameField
                      label={`What slot ${numbers[i]} is`}
                      name={channel.label ?? 'Parked'}
                      onName={label => set(i, { ...channel, label })}
                    />
                  </>
                )}
              </td>
              <td>
                <Pick
                  bare
                  label={`Bits of slot ${numbers[i]}`}
                  value={channel.bits === 8 ? '8' : '16'}
                  options={[
                    ['8', '8'],
                    ['16', '16'],
                  ]}
                  onChange={bits => set(i, { ...channel, bits: bits === '8' ? 8 : 16 })}
                />
              </td>
              <td className="order">
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Slot ${numbers[i]} up`}
                  aria-disabled={i === 0}
                  onClick={() => i > 0 && move(i, -1)}
                >
                  <Sign name="up" />
                </button>
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Slot ${numbers[i]} down`}
                  aria-disabled={i === channels.length - 1}
                  onClick={() => i < channels.length - 1 && move(i, 1)}
                >
                  <Sign name="down" />
                </button>
                <button
                  type="button"
                  className="btn quiet"
                  aria-label={`Take out slot ${numbers[i]}`}
                  aria-disabled={channels.length === 1}
                  onClick={() => channels.length > 1 && change('a channel fewer', channels.toSpliced(i, 1))}
                >
                  <Sign name="cross" />
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <button
        type="button"
        className="btn outline"
        aria-disabled={!room}
        onClick={() => room && change('a channel more', [...channels, { does: 'fixed', value: 0, bits: 8 }])}
      >
        Add a slot
      </button>
    </>
  )
}
