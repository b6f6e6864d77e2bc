// MIDI ports of this machine: a thin adapter over an optional native library; without MIDI the engine plays on.

import { existsSync } from 'node:fs'
import type { EngineStatus, MidiIn } from '@glowchart/shared/messages.ts'

/** What is used of the library: its inputs and outputs, and no more. */
export interface MidiLibrary {
  readonly Input: new () => NativeInput
  readonly Output: new () => NativeOutput
}

interface NativePort {
  getPortCount(): number
  getPortName(port: number): string
  openPort(port: number): void
  /** Closes the port and frees what the library holds for it. */
  destroy(): void
}

interface NativeInput extends NativePort {
  ignoreTypes(sysex: boolean, timing: boolean, activeSensing: boolean): void
  on(event: 'message', listener: (deltaTime: number, bytes: number[]) => void): unknown
}

interface NativeOutput extends NativePort {
  sendMessage(bytes: number[]): void
}

export interface MidiOptions {
  /** The engine's monotonic clock, ms. */
  now(): number
  hear(midi: MidiIn): void
  /** The one input to open; all of them when left out. */
  input?: string
  /** Loads the library; throws where there is none. */
  load?(): Promise<MidiLibrary>
}

export interface MidiPorts {
  /** Safe to ask for often. */
  status(): Pick<EngineStatus['midi'], 'available' | 'ports' | 'outputs' | 'says'>
  /** The output that `send` sends to from now on; null: none. */
  sendTo(output: string | null): void
  /** Sends bytes to the chosen output; false when it is not there. */
  send(bytes: readonly number[]): boolean
  close(): void
}

/**
 * Ports come and go with their cables: the list is read this often. A cable that was out and in again between two looks
 * leaves a port that looks open and hears nothing, so a look must come sooner than a hand (common practice, no source).
 */
const POLL_MS = 500
/** The system's own loop from outputs to inputs (ALSA): following it would be following ourselves. */
const LOOPBACK = /^Midi Through/

/**
 * Opens the inputs there are, and those that are plugged in later. Resolves also where the machine has no MIDI; the
 * status then says why in plain words.
 */
export async function openMidi(options: MidiOptions): Promise<MidiPorts> {
  let library: MidiLibrary
  let listing: NativeInput
  let outputs: NativeOutput
  try {
    library = await (options.load ?? loadLibrary)()
    listing = new library.Input()
    outputs = new library.Output()
  } catch (error) {
    const midi = { available: false, ports: [], outputs: [], says: reason(error) }
    return { status: () => midi, sendTo: () => {}, send: () => false, close: () => {} }
  }
  return watchPorts(options, library, listing, outputs)
}

function watchPorts(
  { now, hear, input }: MidiOptions,
  library: MidiLibrary,
  listing: NativeInput,
  outputs: NativeOutput,
): MidiPorts {
  const open = new Map<string, NativeInput>()
  /** Ports that could not be opened, and why. */
  const refused = new Map<string, string>()
  let wanted: string | null = null
  let output: NativeOutput | null = null
  let outputNames: string[] = []

  function openInput(name: string, index: number): void {
    const port = new library.Input()
    try {
      port.ignoreTypes(false, false, false)
      port.on('message', (_, bytes) => hear({ port: name, at: now(), bytes }))
      port.openPort(index)
      open.set(name, port)
      refused.delete(name)
    } catch (error) {
      port.destroy()
      refused.set(name, messageOf(error))
    }
  }

  function readOutputs(): void {
    outputNames = namesOf(outputs)
    const index = wanted === null ? -1 : outputNames.indexOf(wanted)
    if (output && index < 0) {
      output.destroy()
      output = null
    } else if (!output && index >= 0) {
      const port = new library.Output()
      try {
        port.openPort(index)
        output = port
      } catch {
        port.destroy()
      }
    }
  }

  function poll(): void {
    let names: string[] = []
    try {
      names = namesOf(listing)
      readOutputs()
    } catch {
      // The MIDI system itself is gone: so are its ports, until it is back.
    }
    for (const [name, port] of open) {
      if (names.includes(name)) continue
      port.destroy()
      open.delete(name)
    }
    for (const name of refused.keys()) if (!names.includes(name)) refused.delete(name)
    for (const [index, name] of names.entries()) {
      const chosen = input === undefined ? !LOOPBACK.test(name) : name === input
      if (chosen && !open.has(name)) openInput(name, index)
    }
  }

  poll()
  const timer = setInterval(poll, POLL_MS)
  timer.unref()
  return {
    status: () => ({
      available: true,
      ports: [...open.keys()],
      outputs: outputNames,
      says: saysOf([...open.keys()], input, refused),
    }),
    sendTo(name) {
      if (name === wanted) return
      wanted = name
      output?.destroy()
      output = null
      poll()
    },
    send(bytes) {
      if (!output) return false
      try {
        output.sendMessage([...bytes])
        return true
      } catch {
        // Pulled out since the list was last read: the next reading closes it.
        return false
      }
    },
    close() {
      clearInterval(timer)
      for (const port of [...open.values(), ...(output ? [output] : []), listing, outputs]) port.destroy()
      open.clear()
      output = null
    },
  }
}

/** Port names in order; a second port of one name is told apart by its number. */
function namesOf(list: NativePort): string[] {
  const names: string[] = []
  for (let port = 0; port < list.getPortCount(); port++) {
    const name = list.getPortName(port).slice(0, 110)
    const same = names.filter(one => one === name || one.startsWith(`${name} (`)).length
    names.push(same === 0 ? name : `${name} (${same + 1})`)
  }
  return names
}

function saysOf(open: string[], input: string | undefined, refused: ReadonlyMap<string, string>): string {
  const [first] = refused
  if (first) return `The MIDI port "${first[0]}" cannot be opened (${first[1]}): another program may hold it.`
  if (open.length > 0) return ''
  return input === undefined
    ? 'No MIDI port is plugged in; one that is plugged in later is followed.'
    : `The MIDI port "${input}" is not plugged in; it is followed once it is.`
}

async function loadLibrary(): Promise<MidiLibrary> {
  // The sound system prints its own complaint before the library can throw: it is not asked where it cannot answer.
  if (process.platform === 'linux' && !existsSync('/dev/snd/seq'))
    throw new Error('Failed to initialise RtMidi')
  return import('@julusian/midi')
}

/** Why there is no MIDI, for a player: `libasound2` missing, no sequencer device, or the library not installed. */
function reason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  if (code === 'ERR_DLOPEN_FAILED') {
    return 'No MIDI: the system library it needs is missing (on Debian: apt install libasound2).'
  }
  if (code === 'ERR_MODULE_NOT_FOUND' || code === 'MODULE_NOT_FOUND') {
    return 'No MIDI: its optional library is not installed on this machine.'
  }
  const message = messageOf(error)
  return message.includes('RtMidi') || message.includes('initialise')
    ? 'No MIDI: this machine has no MIDI system running. A MIDI interface plugged into a browser works too.'
    : `No MIDI: ${message}.`
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
