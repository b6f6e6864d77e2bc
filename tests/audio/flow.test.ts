// The song's near future, as sound needs it, against the frames that the real player then plays.

import { createPlayer, type Piece } from '@glowchart/server/engine/player.ts'
import {
  type Flow,
  flowFrom,
  flowOn,
  flowUntil,
  type Stretch,
  type Ways,
} from '@glowchart/shared/clock/flow.ts'
import { compileSong } from '@glowchart/shared/render/compile.ts'
import { levelPlan } from '@glowchart/shared/render/levels.ts'
import { secondsAt } from '@glowchart/shared/time/tempo.ts'
import { ticks } from '@glowchart/shared/time/units.ts'
import { describe, expect, it } from 'vitest'
import { smallShow } from '../render/small-show.ts'
import { random } from '../support/random.ts'

const RATE = 40
const BAR = 3840
/** How far ahead the page looks, ms. */
const AHEAD = 130

function glidingPiece(): Piece {
  const { rig, show } = smallShow({
    fixtures: 2,
    bpm: 113,
    bars: 4,
    tempo: [{ at: BAR, bpm: 171, glide: 2 * BAR }],
    sections: {
      turn: { name: 'Turn', bars: 2, vamp: true, cues: {} },
      end: { name: 'End', bars: 2, cues: {} },
    },
  })
  return {
    song: 'song',
    revision: 1,
    compiled: compileSong(rig, show, 'kit', 'song'),
    plan: levelPlan(rig, show.kits.kit!),
  }
}

/** Plays frames, and looks ahead at each as the page does; a press comes before the frame of its number. */
function listen(
  frames: number,
  presses: Record<number, Parameters<ReturnType<typeof createPlayer>['press']>[0]> = {},
) {
  const piece = glidingPiece()
  const { timeline } = piece.compiled
  const player = createPlayer(RATE)
  player.take(piece, 0, 0)
  player.press({ do: 'play' }, 0)
  let flow: Flow | null = null
  const heard: Stretch[] = []
  const played: { at: number; position: number }[] = []
  const starts: number[] = []
  for (let n = 0; n < frames; n++) {
    const at = (n * 1000) / RATE
    const press = presses[n]
    if (press) player.press(press, n)
    // The page hears of loops and releases after the frame that first minds them.
    const { loop, released } = player.transport
    const ways: Ways = { loop, released }
    player.render(n, at)
    played.push({ at, position: player.position })
    if (!player.transport.playing) break
    const fix = { at, position: player.position }
    flow = flow && flowOn(flow, fix, timeline, ways)
    if (!flow) {
      starts.push(n)
      flow = flowFrom(fix, player.transport.speed)
    }
    const next = flowUntil(flow, at + AHEAD, timeline, ways)
    flow = next.flow
    heard.push(...next.stretches)
  }
  /** When a position sounds nearest to a time, ms; null when it does not. */
  const timeOf = (position: number, near: number): number | null => {
    const times = heard
      .filter(s => s.from <= position && position < s.to)
      .map(
        s =>
          s.at +
          (1000 * (secondsAt(timeline.tempo, ticks(position)) - secondsAt(timeline.tempo, s.from))) / s.rate,
      )
    return times.length === 0
      ? null
      : times.reduce((a, b) => (Math.abs(b - near) < Math.abs(a - near) ? b : a))
  }
  const errors = played.map(({ at, position }) => {
    const time = timeOf(position, at)
    return time === null ? Number.POSITIVE_INFINITY : Math.abs(time - at)
  })
  return { heard, played, starts, errors, timeline }
}

describe('the song carried on into the near future', () => {
  it('lies on the frames that the engine then plays, over a glide, a vamp that repeats, and its release', () => {
    const { heard, played, starts, errors, timeline } = listen(1200, { 700: { do: 'release' } })
    expect(starts).toEqual([0])
    expect(played.at(-1)!.position).toBe(timeline.length)
    expect(Math.max(...errors.slice(0, -1))).toBeLessThan(0.01)
    expect(heard.filter(s => s.begins === 'jump').length).toBeGreaterThan(1)
  })

  it('gives every tick out once, with no gap, save where a repeat goes back', () => {
    const { heard } = listen(600, { 10: { do: 'loop', span: { from: BAR, to: 3 * BAR } } })
    expect(heard[0]!.begins).toBe('start')
    for (const [i, stretch] of heard.entries()) {
      const before = heard[i - 1]
      if (!before) continue
      if (stretch.begins === 'on') expect(stretch.from).toBe(before.to)
      else expect([before.to, stretch.from, stretch.begins]).toEqual([3 * BAR, BAR, 'jump'])
    }
  })

  it('takes up another speed without a break, late by no more than what was given out already', () => {
    const { starts, errors } = listen(400, { 200: { do: 'speed', factor: 1.1 } })
    expect(starts).toEqual([0])
    expect(Math.max(...errors)).toBeLessThan(AHEAD * 0.1 + 1)
    const after = (ms: number) => Math.max(...errors.slice(200 + (ms / 1000) * RATE))
    expect(Math.max(...errors.slice(0, 200))).toBeLessThan(0.01)
    expect(after(AHEAD + 75)).toBeLessThan(5)
    expect(after(AHEAD + 600)).toBeLessThan(0.01)
  })

  it('begins anew when the song is moved', () => {
    const { starts, heard } = listen(300, { 100: { do: 'locate', at: 2 * BAR + 17 } })
    expect(starts).toEqual([0, 100])
    const after = heard.filter(s => s.begins === 'start')[1]!
    expect(after.at).toBe(2500)
    // The engine goes on from the first frame of the song's own grid.
    expect(after.from - (2 * BAR + 17)).toBeLessThan((2.9 * 960) / RATE)
    expect(after.from).toBeGreaterThanOrEqual(2 * BAR + 17)
  })

  it('is not thrown by positions that jitter, as those of a followed clock do', () => {
    const { timeline } = glidingPiece().compiled
    const ways: Ways = { loop: null, released: null }
    const next = random(7)
    let flow = flowFrom({ at: 0, position: 0 }, 1)
    const rates: number[] = []
    for (let n = 1; n < 200; n++) {
      const at = n * 25
      const position = (at / 1000 + (next() - 0.5) * 0.002) * (113 / 60) * 960
      if (position > BAR) break
      const on = flowOn(flow, { at, position }, timeline, ways)
      expect(on).not.toBeNull()
      flow = flowUntil(on!, at + AHEAD, timeline, ways).flow
      if (n > 16) rates.push(flow.rate)
    }
    expect(rates.length).toBeGreaterThan(50)
    for (const rate of rates) expect(Math.abs(rate - 1)).toBeLessThan(0.02)
  })
})
