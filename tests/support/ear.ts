// An ear at a page: hears every sample that goes to its loudspeaker, and keeps the engine's frames beside it.

import { decodeFrame } from '@glowchart/shared/frame.ts'
import type { Page } from 'playwright-core'

/** What was heard. Page times are `performance.now()`, ms; context times the AudioContext's, s. */
export interface Ear {
  /** RMS of each block of about 21 ms (at 48 kHz), with the page time at which it is heard. */
  loudness(): Promise<{ at: number; rms: number }[]>
  /** Page times at which sound begins after a silence of at least 60 ms. */
  onsets(): Promise<number[]>
  /** Frames as they came, due on the page's clock. */
  frames(): Promise<{ position: number; due: number; playing: boolean }[]>
}

interface Taken {
  blocks: { at: number; rms: number }[]
  onsets: number[]
  stamps: { context: number; page: number }[]
  frames: { bytes: number[] }[]
  pongs: { sent: number; received: number; engine: number }[]
}

/** Runs in the page before everything else. */
function listen(): void {
  const taken: Taken = { blocks: [], onsets: [], stamps: [], frames: [], pongs: [] }
  Object.assign(globalThis, { ear: taken })

  const worklet = `registerProcessor('ear', class extends AudioWorkletProcessor {
    constructor() { super(); this.sum = 0; this.count = 0; this.quiet = 1e9 }
    process([input]) {
      const channels = input ?? []
      for (let i = 0; i < 128; i++) {
        let x = 0
        for (const channel of channels) x = Math.max(x, Math.abs(channel[i]))
        if (x > 0.004) {
          if (this.quiet > 0.06 * sampleRate) this.port.postMessage({ onset: currentTime + i / sampleRate })
          this.quiet = 0
        } else this.quiet++
        this.sum += x * x
      }
      if (++this.count === 8) {
        this.port.postMessage({ at: currentTime, rms: Math.sqrt(this.sum / 1024) })
        this.sum = this.count = 0
      }
      return true
    }
  })`
  const taps = new WeakMap<BaseAudioContext, Promise<AudioWorkletNode>>()
  const tapOf = (context: AudioContext): Promise<AudioWorkletNode> => {
    const made = taps.get(context)
    if (made) return made
    const making = (async () => {
      await context.audioWorklet.addModule(
        URL.createObjectURL(new Blob([worklet], { type: 'text/javascript' })),
      )
      const node = new AudioWorkletNode(context, 'ear')
      node.port.onmessage = ({ data }) => {
        if (data.onset !== undefined) taken.onsets.push(data.onset)
        else taken.blocks.push(data)
      }
      setInterval(() => {
        const { contextTime, performanceTime } = context.getOutputTimestamp()
        if (contextTime && performanceTime) taken.stamps.push({ context: contextTime, page: performanceTime })
      }, 50)
      return node
    })()
    taps.set(context, making)
    return making
  }
  const connect = AudioNode.prototype.connect as (this: AudioNode, ...to: unknown[]) => unknown
  AudioNode.prototype.connect = function (this: AudioNode, ...to: unknown[]) {
    if (to[0] instanceof AudioDestinationNode && this.context instanceof AudioContext) {
      void tapOf(this.context).then(tap => connect.call(this, tap))
    }
    return connect.apply(this, to)
  } as never

  const Socket = globalThis.WebSocket
  globalThis.WebSocket = class extends Socket {
    constructor(url: string | URL, protocols?: string | string[]) {
      super(url, protocols)
      this.addEventListener('message', ({ data }) => {
        const received = performance.now()
        if (data instanceof ArrayBuffer) {
          taken.frames.push({ bytes: [...new Uint8Array(data, 0, 24)] })
        } else if (typeof data === 'string' && data.startsWith('{"type":"clockPong"')) {
          const { at, engine } = JSON.parse(data)
          taken.pongs.push({ sent: at, received, engine })
        }
      })
    }
  }
}

/** Puts an ear to a page; before it is opened, in a context made with `bypassCSP`. */
export async function earAt(page: Page): Promise<Ear> {
  await page.addInitScript(`const __name = f => f; (${listen.toString()})()`)
  const take = () => page.evaluate(() => (globalThis as unknown as { ear: Taken }).ear)
  return {
    async loudness() {
      const { blocks, stamps } = await take()
      return blocks.map(({ at, rms }) => ({ at: heardAt(stamps, at), rms }))
    },
    async onsets() {
      const { onsets, stamps } = await take()
      return onsets.map(at => heardAt(stamps, at))
    },
    async frames() {
      const { frames, pongs } = await take()
      const best = pongs.reduce((a, b) => (b.received - b.sent < a.received - a.sent ? b : a))
      const offset = best.engine - (best.sent + best.received) / 2
      return frames.map(({ bytes }) => {
        // The header alone was kept: a frame of no universe.
        const header = Uint8Array.from(bytes)
        header.fill(0, 22, 24)
        const { position, due, playing } = decodeFrame(header)!
        return { position, due: due - offset, playing }
      })
    },
  }
}

/** The page time at which a context time is heard: the median of the stamps within two seconds of it. */
function heardAt(stamps: Taken['stamps'], context: number): number {
  const near = stamps.filter(stamp => Math.abs(stamp.context - context) < 2)
  const offsets = near.map(stamp => stamp.page - 1000 * stamp.context).sort((a, b) => a - b)
  return 1000 * context + offsets[offsets.length >> 1]!
}
