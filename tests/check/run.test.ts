// The machine of the line check: how presses and time move it, and what can be taken back.

import { freshRun, type Press, pressed, type Run, type Stop } from '@glowchart/shared/check/run.ts'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'

const rgbw = ['red', 'green', 'blue', 'white'] as const
const stops: Stop[] = ['a/1', 'a/2', 'a/4', 'b/1'].map(key => ({ key, raises: rgbw }))

/** Presses one after the other; a number is the clock going on to that many ms. */
function course(...presses: (Press | number)[]): Run {
  let now = 0
  let run = freshRun
  for (const one of presses) {
    if (typeof one === 'number') now = one
    run = pressed(run, typeof one === 'number' ? { do: 'tick' } : one, stops, now)
  }
  return run
}

describe('a line check', () => {
  it('begins at the first socket with red, and steps R G B W every second, round and round', () => {
    const raises = [0, 999, 1000, 2000, 3000, 4000].map(
      (_, i, times) => course({ do: 'start' }, ...times.slice(0, i + 1)).raise,
    )
    expect(raises).toEqual(['red', 'red', 'green', 'blue', 'white', 'red'])
  })

  it('keeps a channel that was chosen by hand', () => {
    const run = course({ do: 'start' }, { do: 'raise', raise: 'blue' }, 5000)
    expect([run.raise, run.auto]).toEqual(['blue', false])
    expect(course({ do: 'start' }, { do: 'raise', raise: 'all' }).raise).toBe('red')
  })

  it('goes on at a pass, past sockets that are judged, and is done when all are', () => {
    const passes = Array.from({ length: 3 }, (): Press => ({ do: 'pass' }))
    expect(course({ do: 'start' }, { do: 'go', at: 'a/2' }, { do: 'pass' }).at).toBe('a/4')
    expect(course({ do: 'start', at: 'a/2' }, ...passes).at).toBe('a/1')
    const done = course({ do: 'start' }, ...passes, { do: 'pass' })
    expect([done.mode, Object.keys(done.verdicts)]).toEqual(['done', ['a/1', 'a/2', 'a/4', 'b/1']])
  })

  it('keeps a failed light up while its fault is looked for, and is dark once it is written down', () => {
    const asking = course({ do: 'start' }, { do: 'raise', raise: 'green' }, { do: 'fail' }, 9000)
    expect([asking.mode, asking.at, asking.raise]).toEqual(['asking', 'a/1', 'green'])
    const halted = pressed(asking, { do: 'note', reason: 'no green' }, stops, 9000)
    expect(halted.mode).toBe('halted')
    expect(halted.verdicts).toEqual({ 'a/1': { passed: false, reason: 'no green' } })
    expect(pressed(halted, { do: 'next' }, stops, 9000)).toMatchObject({
      mode: 'checking',
      at: 'a/2',
      auto: true,
    })
    expect(pressed(halted, { do: 'again' }, stops, 9000)).toMatchObject({ mode: 'checking', at: 'a/1' })
  })

  it('raises another socket while asking, to try a plug there, and comes back', () => {
    const trying = course({ do: 'start' }, { do: 'fail' }, { do: 'go', at: 'b/1' })
    expect([trying.mode, trying.at, trying.trying]).toEqual(['asking', 'a/1', 'b/1'])
    expect(pressed(trying, { do: 'go', at: 'a/1' }, stops, 0).trying).toBe('')
    expect(pressed(trying, { do: 'again' }, stops, 0)).toMatchObject({ at: 'a/1', trying: '' })
  })

  it('takes back the last verdict for ten seconds, and no longer', () => {
    const passed = course({ do: 'start' }, { do: 'pass' })
    expect(pressed(passed, { do: 'undo' }, stops, 10_000)).toMatchObject({
      at: 'a/1',
      verdicts: {},
      undo: null,
    })
    expect(pressed(passed, { do: 'undo' }, stops, 10_001)).toBe(passed)
    expect(pressed(passed, { do: 'tick' }, stops, 10_001).undo).toBeNull()
  })

  it('glows and stops glowing, and begins out of the glow', () => {
    expect(course({ do: 'glow' }).mode).toBe('glow')
    expect(course({ do: 'glow' }, { do: 'glow' }).mode).toBe('ready')
    expect(course({ do: 'glow' }, { do: 'start' }).mode).toBe('checking')
  })

  it('stays on the way whatever is pressed: a socket of the walk, a channel it has, verdicts of the walk alone', () => {
    const press = fc.oneof(
      fc.constantFrom<Press>(
        { do: 'start' },
        { do: 'glow' },
        { do: 'pass' },
        { do: 'fail' },
        { do: 'note', reason: 'x' },
        { do: 'again' },
        { do: 'raise', raise: 'green' },
        { do: 'auto', on: true },
        { do: 'go', at: 'gone' },
        { do: 'go', at: 'b/1' },
        { do: 'step', by: -1 },
        { do: 'step', by: 1 },
        { do: 'next' },
        { do: 'undo' },
        { do: 'end' },
      ),
      fc.nat(30_000),
    )
    fc.assert(
      fc.property(fc.array(press, { maxLength: 40 }), presses => {
        let now = 0
        const run = course(
          ...presses.map(one => {
            if (typeof one !== 'number') return one
            now += one
            return now
          }),
        )
        const keys = stops.map(({ key }) => key)
        if (run.mode === 'checking' || run.mode === 'asking' || run.mode === 'halted')
          expect(keys).toContain(run.at)
        expect(rgbw).toContain(run.raise)
        for (const key of Object.keys(run.verdicts)) expect(keys).toContain(key)
        expect(run.undo?.run.undo ?? null).toBeNull()
      }),
    )
  })
})
