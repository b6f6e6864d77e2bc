// Looks at the product's processes, files and frames again and again; tells a line a minute, and figures at any time.

import { loadavg } from 'node:os'
import { join } from 'node:path'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { within } from '../bench/figures.ts'
import type { Figure } from '../drills/drill.ts'
import { type Notes, notesIn, type Sample, slopeOf } from '../drills/memory.ts'
import { processFigures } from '../drills/set-drill.ts'
import type { Stage } from '../drills/stage.ts'
import type { Tally } from '../drills/tally.ts'
import { processesOf } from '../support/processes.ts'
import { bytesOf, countsOf } from './counts.ts'
import type { Life } from './life.ts'

const LOOK = 250
const FLAT = 'our own: what came has gone at the end of its round'
/** What may still be on its way out when a round is looked at. */
const PASSING = 2

export interface Watch {
  /** What the last minute was like, in a line. */
  line(): string
  /** What can be said so far; asks the product nothing. */
  figures(): Figure[]
  end(): void
}

export function watchOver(stage: Stage, tallied: Tally, life: Life, notesFile: string): Watch {
  const { app, engine } = processesOf(stage.served)
  const pids = { engine, app, supervisor: stage.served.child.pid! }
  const names = Object.keys(pids) as (keyof typeof pids)[]
  const files = { journal: 'edits.journal', 'night log': 'nights', 'data folder': '' }
  const began = monotonicMs()
  const before = stage.told.statuses.at(-1)!.frames
  /** The least of each round: what is left when all that came has gone. By "the engine, sockets". */
  const least = new Map<string, number[]>()
  const sizes = new Map<string, Sample[]>(Object.keys(files).map(name => [name, []]))
  const engines = new Set([engine])
  let looked = 0

  const count = (what: string, value: number): void => {
    const rounds = least.get(what) ?? []
    least.set(what, rounds)
    const round = life.done.rounds
    rounds[round] = Math.min(rounds[round] ?? Number.POSITIVE_INFINITY, value)
  }
  const look = (): void => {
    for (const name of names) {
      const counts = countsOf(pids[name])
      if (!counts) continue
      for (const [what, value] of Object.entries(counts)) count(`${what} of the ${name}`, value)
    }
    const status = stage.told.statuses.at(-1)
    if (status) engines.add(status.pid)
    // What this process keeps of what it is told is the soak's own memory.
    for (const told of [stage.told.statuses, stage.told.resumes, stage.told.frames])
      told.splice(0, told.length - 1)
    stage.page.messages.splice(
      0,
      stage.page.messages.findLastIndex(one => one.type === 'access'),
    )
    if (looked++ % (2000 / LOOK) > 0) return
    void tallied.look().catch(() => {})
    for (const [name, path] of Object.entries(files)) {
      sizes.get(name)!.push({ at: monotonicMs(), value: bytesOf(join(stage.served.data, path)) / 1e6 })
    }
  }
  look()
  const looking = setInterval(look, LOOK)

  /** What is left of each process at the end of its rounds; where the kernel does not count, Node does. */
  const atRest = (notes: Notes): [string, number[]][] =>
    least.size > 0
      ? [...least].map(([what, rounds]) => [what, rounds.slice(1, Math.max(2, life.done.rounds))])
      : names.map(name => {
          const held = notes.process(pids[name], 'handles').map(({ value }) => value)
          const third = Math.ceil(held.length / 3)
          return [
            `open handles of the ${name}`,
            [Math.min(...held.slice(0, third)), Math.min(...held.slice(-third))],
          ]
        })

  /** Since the first round after the first: in that one things are made that stay. */
  const grown = ([what, rounds]: [string, number[]]): Figure[] => {
    const [first, last] = [rounds[0] ?? Number.NaN, rounds.at(-1) ?? Number.NaN]
    return [
      { what: `${what}, at rest at the end`, value: last, unit: '', limit: 'tells' },
      {
        what: `${what}, grown by`,
        value: last - first,
        unit: '',
        limit: rounds.length > 1 ? { atMost: PASSING } : 'tells',
        source: FLAT,
      },
    ]
  }

  return {
    line() {
      const notes = notesIn(notesFile)
      const frames = stage.told.statuses.at(-1)?.frames ?? before
      const mb = (value: number | undefined): string => (value ?? Number.NaN).toFixed(1)
      const processes = names.map(name => {
        const heaps = notes.threads(pids[name], 'heap').map(held => mb(held.at(-1)?.value))
        const external = notes.process(pids[name], 'external').at(-1)?.value
        const counts = countsOf(pids[name])
        const open = counts
          ? `${counts['file descriptors']} fds, ${counts.sockets} sockets, ${counts.threads} threads`
          : `${notes.process(pids[name], 'handles').at(-1)?.value} handles`
        return `${name} ${mb(notes.process(pids[name], 'resident').at(-1)?.value)} MB (heaps ${heaps.join(' + ')}, external ${mb(external)}), ${open}`
      })
      const kb = [...sizes].map(
        ([name, held]) => `${name} ${((held.at(-1)?.value ?? 0) * 1000).toFixed(0)} kB`,
      )
      return [
        `min ${((monotonicMs() - began) / 60_000).toFixed(1)}`,
        ...processes,
        `frames off p50 ${frames.errorP50.toFixed(2)} p99 ${frames.errorP99.toFixed(2)} max ${frames.errorMax.toFixed(1)} ms, lost ${tallied.lost}`,
        kb.join(', '),
        `rounds ${life.done.rounds}, edits ${life.done.edits}`,
        `load ${loadavg()[0]!.toFixed(1)}`,
      ].join('; ')
    },
    figures() {
      const minutes = (monotonicMs() - began) / 60_000
      const notes = notesIn(notesFile)
      const frames = stage.told.statuses.at(-1)?.frames ?? before
      const tells = (what: string, value: number, unit = ''): Figure => ({
        what,
        value,
        unit,
        limit: 'tells',
      })
      const none = (what: string, value: number, source: string): Figure => ({
        what,
        value,
        unit: '',
        limit: { exactly: 0 },
        source,
      })
      const { done } = life
      const { errors } = tallied
      return [
        tells('minutes', minutes, 'min'),
        {
          what: 'rounds',
          value: done.rounds,
          unit: '',
          limit: { atLeast: 1 },
          source: 'a life in which nothing came and went tells nothing',
        },
        tells('pages that came and went', done.pages),
        tells('phones that joined and left', done.phones),
        tells('edits acknowledged', done.edits),
        none('edits refused', done.refused, 'nothing was wrong with them'),
        tells('times the output was switched', done.outputs),
        tells('times MIDI clock was started and stopped', done.clocks),
        tells('shows opened', done.shows),
        none('engines started anew', engines.size - 1, 'unattended'),
        tells('packets received, both protocols', tallied.packets),
        none('frames lost, by sequence numbers', tallied.lost, 'fixed rate; E1.31-2018 6.7.2'),
        {
          what: 'streams begun anew',
          value: tallied.begun,
          unit: '',
          limit: { atMost: 2 * done.outputs + 2 },
          source: 'two with each switch of the output; one may be under way',
        },
        tells('frames left out as their time had passed', frames.skipped - before.skipped),
        tells('engine: frame off its due time, p50', frames.errorP50, 'ms'),
        tells('engine: frame off its due time, p99', frames.errorP99, 'ms'),
        tells('engine: frame off its due time, max', frames.errorMax, 'ms'),
        tells('receiver: interval off 25 ms, p50', within(errors, 0.5), 'ms'),
        tells('receiver: interval off 25 ms, p99', within(errors, 0.99), 'ms'),
        tells('longest wait of the receiver itself', stage.receiver.stall, 'ms'),
        ...processFigures('engine', engine, notes, minutes, { resident: 30, heap: 5, external: 5, young: 5 }),
        // The app remembers 2000 edits to be taken back: it may grow until it has them.
        ...processFigures('app', app, notes, minutes, { resident: 60, heap: 30, external: 5 }),
        ...processFigures('supervisor', pids.supervisor, notes, minutes, {
          resident: 30,
          heap: 5,
          external: 5,
        }),
        ...atRest(notes).flatMap(grown),
        {
          what: 'journal of edits, at its largest',
          value: Math.max(...sizes.get('journal')!.map(({ value }) => value)) * 1000,
          unit: 'kB',
          limit: { atMost: 1000 },
          source: 'our own: written into the files after 500 lines at the latest',
        },
        {
          what: 'night log, slope',
          value: slopeOf(sizes.get('night log')!),
          unit: 'MB/h',
          limit: minutes < 10 ? 'tells' : { atMost: 1 },
          source: 'our own: the log of a night of four hours stays whole (it ends at 4 MiB)',
        },
        tells('data folder at the end', sizes.get('data folder')!.at(-1)!.value, 'MB'),
      ]
    },
    end: () => clearInterval(looking),
  }
}
