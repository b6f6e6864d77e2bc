// The MIDI port adapter: the real library as far as this machine goes, and ports that come and go by a stand-in.

import { existsSync } from 'node:fs'
import { startClockOut } from '@glowchart/server/midi/clock-out.ts'
import { type MidiLibrary, openMidi } from '@glowchart/server/midi/ports.ts'
import type { SongMotion } from '@glowchart/shared/clock/sender.ts'
import type { MidiIn } from '@glowchart/shared/messages.ts'
import { seconds, ticks } from '@glowchart/shared/time/units.ts'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'

/** A library whose ports are the names in two lists; it stands in for cables, which no test machine has. */
function cables(inputs: string[], outputs: string[]) {
  const opened = new Map<string, (bytes: number[]) => void>()
  const sent: number[][] = []
  const stuck = new Set<string>()
  let live = 0
  class Port {
    protected readonly names: string[]
    protected name = ''
    constructor(names: string[]) {
      this.names = names
      live++
    }
    getPortCount(): number {
      return this.names.length
    }
    getPortName(port: number): string {
      return this.names[port]!
    }
    openPort(port: number): void {
      if (stuck.has(this.names[port]!)) throw new Error('device busy')
      this.name = this.names[port]!
    }
    destroy(): void {
      live--
      opened.delete(this.name)
    }
  }
  class Input extends Port {
    private listener: (deltaTime: number, bytes: number[]) => void = () => {}
    private ignored: unknown
    constructor() {
      super(inputs)
    }
    ignoreTypes(...types: boolean[]): void {
      this.ignored = types
    }
    on(_: 'message', listener: (deltaTime: number, bytes: number[]) => void): void {
      this.listener = listener
    }
    override openPort(port: number): void {
      super.openPort(port)
      expect(this.ignored).toEqual([false, false, false])
      opened.set(this.name, bytes => this.listener(0, bytes))
    }
  }
  class Output extends Port {
    constructor() {
      super(outputs)
    }
    sendMessage(bytes: number[]): void {
      if (!outputs.includes(this.name)) throw new Error('gone')
      sent.push(bytes)
    }
  }
  const load = async (): Promise<MidiLibrary> => ({ Input, Output })
  return { load, opened, sent, stuck, live: () => live }
}

const failing = (message: string, code?: string) => async (): Promise<MidiLibrary> => {
  throw Object.assign(new Error(message), code ? { code } : {})
}
const now = (): number => 42
const hear = (): void => {}

describe('a machine without MIDI', () => {
  it.each([
    ['libasound.so.2: cannot open shared object file', 'ERR_DLOPEN_FAILED', 'libasound2'],
    ['Failed to initialise RtMidi', undefined, 'no MIDI system running'],
    ["Cannot find package '@julusian/midi'", 'ERR_MODULE_NOT_FOUND', 'not installed'],
  ])('says so in plain words and plays on: %s', async (message, code, words) => {
    const midi = await openMidi({ now, hear, load: failing(message, code) })
    expect(midi.status()).toMatchObject({ available: false, ports: [] })
    expect(midi.status().says).toContain(words)
    expect(midi.send([0xf8])).toBe(false)
    midi.close()
  })

  it('opens the real library, or says why not', async () => {
    const midi = await openMidi({ now, hear })
    const status = midi.status()
    if (process.platform === 'linux' && !existsSync('/dev/snd/seq')) expect(status.available).toBe(false)
    expect(status.available || status.says.startsWith('No MIDI')).toBe(true)
    midi.close()
  })
})

describe('ports', () => {
  beforeEach(() => void vi.useFakeTimers())
  afterEach(() => void vi.useRealTimers())

  it('are all heard, stamped with the engine clock, the system loop aside', async () => {
    const box = cables(['Midi Through Port-0', 'Keys', 'Drums'], [])
    const heard: MidiIn[] = []
    const midi = await openMidi({ now, hear: one => heard.push(one), load: box.load })
    expect(midi.status()).toMatchObject({ available: true, ports: ['Keys', 'Drums'], says: '' })
    box.opened.get('Drums')!([0xf8])
    expect(heard).toEqual([{ port: 'Drums', at: 42, bytes: [0xf8] }])
    midi.close()
    expect(box.live()).toBe(0)
  })

  it('that are plugged in later are opened, and those pulled out are closed', async () => {
    const inputs: string[] = []
    const box = cables(inputs, [])
    const midi = await openMidi({ now, hear, load: box.load })
    expect(midi.status()).toMatchObject({ available: true, ports: [] })
    expect(midi.status().says).toContain('plugged in later')
    inputs.push('Keys')
    vi.advanceTimersByTime(2000)
    expect(midi.status()).toMatchObject({ available: true, ports: ['Keys'], says: '' })
    inputs.pop()
    // Sooner than a hand has it in again: a port that nobody saw go would stay open, and deaf.
    vi.advanceTimersByTime(500)
    expect(midi.status().ports).toEqual([])
    expect(box.opened.size).toBe(0)
    midi.close()
  })

  it('of one name are told apart, and one that is held by another program is tried again', async () => {
    const box = cables(['Keys', 'Keys', 'Pads'], [])
    box.stuck.add('Pads')
    const midi = await openMidi({ now, hear, load: box.load })
    expect(midi.status().ports).toEqual(['Keys', 'Keys (2)'])
    expect(midi.status().says).toContain('"Pads" cannot be opened (device busy)')
    box.stuck.clear()
    vi.advanceTimersByTime(2000)
    expect(midi.status()).toMatchObject({ available: true, ports: ['Keys', 'Keys (2)', 'Pads'], says: '' })
    midi.close()
  })

  it('other than the chosen one are left alone', async () => {
    const box = cables(['Keys', 'Drums'], [])
    const midi = await openMidi({ now, hear, load: box.load, input: 'Drums' })
    expect(midi.status().ports).toEqual(['Drums'])
    midi.close()
    const none = await openMidi({ now, hear, load: box.load, input: 'Organ' })
    expect(none.status().says).toContain('"Organ" is not plugged in')
    none.close()
  })

  it('take bytes out while the chosen output is there, and without error when it is not', async () => {
    const outputs = ['Synth']
    const box = cables([], outputs)
    const midi = await openMidi({ now, hear, load: box.load })
    expect(midi.send([0xf8])).toBe(false)
    midi.sendTo('Synth')
    expect(midi.status().outputs).toEqual(['Synth'])
    expect(midi.send([0xf2, 0, 2])).toBe(true)
    outputs.pop()
    expect(midi.send([0xf8])).toBe(false)
    vi.advanceTimersByTime(2000)
    expect(midi.send([0xf8])).toBe(false)
    outputs.push('Synth')
    vi.advanceTimersByTime(2000)
    expect(midi.send([0xfa])).toBe(true)
    expect(box.sent).toEqual([[0xf2, 0, 2], [0xfa]])
    midi.close()
    expect(box.live()).toBe(0)
  })
})

it('clock going out keeps its order, though a timer that was set later may come first', async () => {
  // Two looks at the time on either side of a whole millisecond to go.
  const times = [990, 995, 994.99, 995.01]
  const sent: number[] = []
  const motion: SongMotion = {
    playing: true,
    at: 1000,
    place: ticks(0),
    speed: 1,
    tempo: [{ at: ticks(0), seconds: seconds(0), bpm: 120, slope: 0 }],
  }
  const out = startClockOut({
    now: () => times.shift() ?? 995.02,
    motion: () => motion,
    send: bytes => sent.push(bytes[0]!),
  })
  await vi.waitFor(() => expect(sent.length).toBeGreaterThan(1))
  out.close()
  expect(sent.slice(0, 2)).toEqual([0xfa, 0xf8])
})
