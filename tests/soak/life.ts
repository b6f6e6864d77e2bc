// What comes and goes in hours on the road, round after round: pages, phones, edits, outputs, MIDI clock, shows.

import { setTimeout as sleep } from 'node:timers/promises'
import { monotonicMs } from '@glowchart/server/engine/now.ts'
import { openShow, secondBand } from '../drills/second-band.ts'
import { playMidi, pulses, START, STOP } from '../drills/sequencer.ts'
import { outputTo, type Stage } from '../drills/stage.ts'
import { type Opened, openToGuests } from '../support/guests.ts'
import { openPage, type PageSocket } from '../support/page-socket.ts'

const PAGES = 3
const PHONES = 4
/** Between two edits of one hand, ms: faster than anybody types. */
const HAND = 100

export interface Life {
  /** What was done so far. */
  readonly done: {
    rounds: number
    pages: number
    phones: number
    edits: number
    refused: number
    outputs: number
    clocks: number
    shows: number
  }
  /** One round, at whose end everything that came has gone. @param hold how long each thing stays, ms */
  round(hold: number): Promise<void>
}

/** The life of a stage whose laptop is open to guests from now on. */
export async function lifeOf(stage: Stage): Promise<Life> {
  const { page, served, receiver, link } = stage
  const { rig, show } = page.hello
  const second = secondBand({ rig, show })
  const guests: Opened = await openToGuests(page)
  const done = { rounds: 0, pages: 0, phones: 0, edits: 0, refused: 0, outputs: 0, clocks: 0, shows: 0 }
  const song = (): string => show.songOrder[done.rounds % show.songOrder.length]!

  const play = async (): Promise<void> => {
    await stage.press({ do: 'song', song: song(), at: 0 })
    await stage.press({ do: 'play' })
  }

  /** Renames band and song for a while: each edit goes to the disk and through the compiler, and changes no light. */
  const edits = async (hold: number): Promise<void> => {
    for (const until = monotonicMs() + hold; monotonicMs() < until; await sleep(HAND)) {
      const word = done.edits % 1000
      const answer = await page.ask(
        done.edits % 2 === 0
          ? { type: 'edit', edit: 'renameShow', args: { name: `Department of Oh ${word}` } }
          : { type: 'edit', edit: 'renameSong', args: { song: song(), title: `Song ${word}` } },
      )
      if (answer.type === 'done') done.edits++
      else done.refused++
    }
  }

  const gone = async (pages: readonly PageSocket[]): Promise<void> => {
    for (const one of pages) one.close()
    await Promise.all(pages.map(one => one.ended))
  }

  /** Pages that take every frame while the draft is edited; one loads the page itself, too. */
  const pages = async (hold: number): Promise<void> => {
    await (await fetch(served.url)).text()
    const come = await Promise.all(Array.from({ length: PAGES }, (_, i) => openPage(served.url, `soak-${i}`)))
    for (const one of come) one.send({ type: 'frames', on: true })
    await edits(hold)
    await gone(come)
    done.pages += PAGES
  }

  /** Phones that join by the PIN, look on, and whose sessions are ended. */
  const phones = async (hold: number): Promise<void> => {
    const come: PageSocket[] = []
    const ids: string[] = []
    for (let i = 0; i < PHONES; i++) {
      const joined = await guests.join(`Phone ${i}`)
      const phone = await joined.page()
      phone.send({ type: 'frames', on: true })
      come.push(phone)
      ids.push(joined.id)
    }
    await sleep(hold)
    for (const guest of ids) await page.ask({ type: 'access', access: { do: 'dismiss', guest } })
    await gone(come)
    done.phones += PHONES
  }

  /** To another priority, and back: every socket of the output is opened anew. */
  const outputs = async (hold: number): Promise<void> => {
    for (const priority of [120, 100]) {
      const answer = await page.ask({ type: 'output', output: outputTo(receiver.port, priority) })
      if (answer.type === 'refused') throw new Error(answer.problem.message)
      await sleep(hold / 2)
      done.outputs++
    }
  }

  /** A sequencer starts, plays for a while, and stops. */
  const clocks = async (hold: number): Promise<void> => {
    await stage.press({ do: 'stop' })
    await stage.press({ do: 'song', song: song(), at: 0 })
    await stage.press({ do: 'clock', source: 'midi' })
    const playing = { tempo: stage.tempoOf(song()), place: 0, at: monotonicMs() + 100 }
    const end = playing.at + hold
    await playMidi(link, [
      { at: playing.at - 5, bytes: [START] },
      ...pulses(playing, end),
      { at: end, bytes: [STOP] },
    ])
    await stage.press({ do: 'clock', source: 'internal' })
    done.clocks++
  }

  /** Another band's show is opened, and this one again. */
  const shows = async (hold: number): Promise<void> => {
    for (const one of [done.shows === 0 ? second : second.show.id, show.id]) {
      await openShow(served.url, one)
      await sleep(hold / 2)
      done.shows++
    }
  }

  return {
    done,
    async round(hold) {
      await play()
      for (const step of [pages, phones, outputs, clocks, shows]) await step(hold)
      await sleep(hold / 2)
      done.rounds++
    },
  }
}
