// OSC in the engine, over loopback: what an independent package sends to our addresses is done, others are triggers.

import { createSocket } from 'node:dgram'
import { once } from 'node:events'
import { demoBundle } from '@glowchart/server/demo/demo.ts'
import { createOsc } from '@glowchart/server/engine/osc.ts'
import { createPedals } from '@glowchart/server/engine/pedals.ts'
import { oscMethods, oscName } from '@glowchart/shared/osc/commands.ts'
import { applyEdit } from '@glowchart/shared/show/edits.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { deedOf, type Situation } from '@glowchart/shared/trigger/deed.ts'
import type { Input, Trigger } from '@glowchart/shared/trigger/trigger.ts'
import { type OscPacketInput, toBuffer } from 'osc-min'
import { afterEach, describe, expect, it, vi } from 'vitest'

const bundle = demoBundle()
const situation: Situation = {
  song: 'porchlight',
  look: null,
  place: 1,
  playing: true,
  position: 9 * 3840,
  loop: null,
  released: null,
  repeated: null,
  clock: { source: 'internal' },
  live: { strobeStop: false, grand: 1, parts: {} },
}

const closing: (() => void)[] = []
afterEach(() => {
  for (const close of closing.splice(0)) close()
})

async function freePort(): Promise<number> {
  const socket = createSocket('udp4').bind(0, '127.0.0.1')
  await once(socket, 'listening')
  const { port } = socket.address()
  socket.close()
  return port
}

async function ear(show: Show = bundle.show) {
  const port = await freePort()
  const done: unknown[] = []
  const touched: Input[] = []
  const hands = {
    now: () => ({ show, situation }),
    press: (transport: unknown) => void done.push(transport),
    setLive: (live: unknown) => void done.push(live),
  }
  const pedals = createPedals({ ...hands, touched: input => touched.push(input), sinceStart: () => 0 })
  const osc = createOsc({ ...hands, touch: pedals.touch })
  osc.listen({ port, address: '127.0.0.1' })
  await vi.waitFor(() => expect(osc.status().port).toBe(port))
  const socket = createSocket('udp4')
  closing.push(osc.close, () => socket.close())
  const send = async (packet: OscPacketInput | Uint8Array) => {
    const before = osc.status()
    socket.send(packet instanceof Uint8Array ? packet : toBuffer(packet), port, '127.0.0.1')
    await vi.waitFor(() => expect(osc.status()).not.toEqual(before))
  }
  return { osc, port, done, touched, send }
}

const part = bundle.show.partOrder[0]!
const slug = oscName(bundle.show.parts[part]!.name)

describe('our own addresses', () => {
  it('do what the page says of the same action, and nothing when a button is let go of', async () => {
    const { osc, done, send } = await ear()
    await send({ address: '/glowchart/next', args: [1] })
    expect(done).toEqual(deedOf({ do: 'next' }, bundle.show, situation).presses)
    await send({ address: '/glowchart/next', args: [0] })
    expect(done.length).toBe(1)
    expect(osc.status().heard).toMatchObject({ address: '/glowchart/next', args: '0', does: 'Let go' })
  })

  it('set blackout, masters and bumps by value, in bundles and by pattern too', async () => {
    const { done, send } = await ear()
    const grand = { address: '/glowchart/grand', args: [{ type: 'float' as const, value: 0.5 }] }
    const dark = (is: boolean) => ({ address: '/glowchart/blackout', args: [is] })
    await send({ timetag: [0, 1], elements: [dark(true), { timetag: [9, 9], elements: [grand] }] })
    await send({ address: '/glowchart/blackout', args: [0] })
    await send({ address: `/glowchart/part/{none,${slug}}/level`, args: [0.25] })
    await send({ address: `/glowchart/part/${slug}/bump`, args: [1] })
    await send({ address: `/glowchart/part/${slug}/bump`, args: [0] })
    expect(done).toEqual([
      { blackout: true },
      { grand: 0.5 },
      { blackout: false },
      { parts: { [part]: 0.25 } },
      { bumps: { [part]: 1 } },
      { bumps: { [part]: null } },
    ])
  })

  it('make the third song of tonight ready, by its number', async () => {
    const { done, send } = await ear()
    await send({ address: '/glowchart/song', args: [{ type: 'integer', value: 3 }] })
    expect(done).toEqual([expect.objectContaining({ do: 'song', at: 0 })])
  })

  it('do nothing, and say why, for a value that is none and an address that is not there', async () => {
    const { osc, done, send } = await ear()
    const says = async (address: string, ...args: (number | string | Uint8Array)[]) => {
      await send({ address, args })
      return osc.status().heard!.does
    }
    expect(await says('/glowchart/grand', 1.5)).toBe('A level is 0 to 1')
    expect(await says('/glowchart/grand')).toBe('A level is 0 to 1')
    expect(await says('/glowchart/grand', 'high')).toBe('Its value is no number')
    expect(await says('/glowchart/song', 99)).toBe('There is no song 99 tonight')
    expect(await says('/glowchart/song', 0)).toBe('Give its number, from 1 on')
    expect(await says('/glowchart/nothing')).toBe('No such address')
    expect(done).toEqual([])
  })

  it('all have names that another program can send, each once', () => {
    const all = oscMethods(bundle.show).map(method => method.address)
    expect(new Set(all).size).toBe(all.length)
    for (const address of all) expect(address).toMatch(/^\/glowchart(\/[a-z0-9-]+)+$/)
  })
})

describe('other addresses', () => {
  const triggers: Trigger[] = [
    { input: { from: 'osc', address: '/foot/1' }, action: { do: 'next' } },
    { input: { from: 'osc', address: '/foot/2' }, action: { do: 'blackout' } },
  ]
  const { show } = applyEdit(bundle, 'setTriggers', { triggers }).next

  it('are triggers: down above one half, let go of below, both at once without a value', async () => {
    const { done, touched, send } = await ear(show)
    await send({ address: '/foot/1', args: [0.4] })
    expect(done).toEqual([])
    await send({ address: '/foot/1', args: [1] })
    expect(done).toEqual(deedOf({ do: 'next' }, show, situation).presses)
    done.length = 0
    await send({ address: '/foot/2', args: [true] })
    await send({ address: '/foot/2', args: [false] })
    expect(done).toEqual([{ blackout: true }, { blackout: false }])
    done.length = 0
    await vi.waitFor(async () => {
      await send({ address: '/foot/2' })
      expect(done.length).toBeGreaterThan(0)
    })
    expect(done).toEqual([{ blackout: true }, { blackout: false }])
    // And what has no trigger can be learned.
    await send({ address: '/fader/9', args: [1] })
    expect(touched.at(-1)).toEqual({ from: 'osc', address: '/fader/9' })
  })
})

describe('the port', () => {
  it('says what came that is no OSC, and goes on', async () => {
    const { osc, done, send } = await ear()
    await send(Buffer.from('hello'))
    expect(osc.status().says).toContain('was passed over')
    await send({ address: '/glowchart/grand', args: [1] })
    expect(osc.status().says).toBe('')
    expect(done).toEqual([{ grand: 1 }])
  })

  it('says when another program has it, and takes it when that is gone', { timeout: 10_000 }, async () => {
    const other = createSocket('udp4').bind(0, '127.0.0.1')
    await once(other, 'listening')
    const { port } = other.address()
    const osc = createOsc({
      now: () => null,
      press() {},
      setLive() {},
      touch() {},
    })
    closing.push(osc.close)
    osc.listen({ port, address: '127.0.0.1' })
    await vi.waitFor(() =>
      expect(osc.status().says).toContain(`Another program on this laptop uses UDP ${port}`),
    )
    other.close()
    await vi.waitFor(() => expect(osc.status()).toMatchObject({ port, says: '' }), { timeout: 5000 })
    osc.listen(undefined)
    expect(osc.status().port).toBe(0)
  })

  it('is refused where Art-Net and sACN live', () => {
    for (const port of [6454, 5568, 80])
      expect(() => applyEdit(bundle, 'setOsc', { osc: { port, address: '127.0.0.1' } })).toThrow('port')
    const set = applyEdit(bundle, 'setOsc', { osc: { port: 9000, address: '127.0.0.1' } })
    expect(set.next.show.osc).toEqual({ port: 9000, address: '127.0.0.1' })
    expect(applyEdit(set.next, 'setOsc', { osc: null }).next.show).toEqual(bundle.show)
  })
})
