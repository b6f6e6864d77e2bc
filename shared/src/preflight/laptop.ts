// The checks of the machine: its battery, its sleep, its time, who else is connected, the second laptop.

import { isAtLeast } from '../access/role.ts'
import { counted } from '../advice/words.ts'
import type { Facts } from './facts.ts'
import type { Row } from './row.ts'

/** Below this a battery is not trusted with a set. Common practice, no source. */
const LOW = 0.25
/** Clocks of page and server that are further apart than this are not both right, ms. */
const APART = 60_000
/** No Glowchart can run before it was written: 2026-01-01, ms since 1970. */
const EARLIEST = Date.UTC(2026, 0, 1)
/** Files may be dated so far ahead by a clock that was set right since, ms. */
const AHEAD = 60_000

export function batteryRow({ page }: Facts): Row {
  const row = { id: 'mains', checked: 'Mains or battery' } as const
  const where = page.isHere
    ? ''
    : ' This is the device that shows this page, not the laptop that runs the lights.'
  if (!page.battery) {
    return {
      ...row,
      result: 'unknown',
      says: `This browser does not tell.${where}`,
      remedy: 'Look at the plug.',
    }
  }
  const level = `${Math.round(page.battery.level * 100)} %`
  if (page.battery.charging) {
    if (!page.isHere)
      return { ...row, result: 'unknown', says: `On mains, ${level}.${where}`, remedy: 'Look at its plug.' }
    return { ...row, result: 'good', says: `On mains, ${level}.` }
  }
  return {
    ...row,
    result: page.battery.level < LOW && page.isHere ? 'stop' : 'heed',
    says: `On battery, ${level}.${where}`,
    remedy: 'Plug in the mains before doors: some laptops also slow down on battery.',
  }
}

export function sleepRow({ page }: Facts): Row {
  const row = { id: 'sleep', checked: 'It does not fall asleep' } as const
  const rest = 'A browser cannot tell what the lid or the system’s own timer do.'
  if (!page.canStayAwake) {
    return {
      ...row,
      result: 'heed',
      says: `This browser cannot keep the display awake. ${rest}`,
      remedy: 'Set the system never to sleep on mains, nor when the lid is shut.',
    }
  }
  return {
    ...row,
    result: 'unknown',
    says: `The run page keeps the display awake while it is in front. ${rest}`,
    remedy: 'Set the system never to sleep on mains, nor when the lid is shut; leave the run page open.',
  }
}

export function timeRow({ page, server }: Facts): Row {
  const row = { id: 'time', checked: 'Date and time' } as const
  if (!server) return { ...row, result: 'unknown', says: 'The server has not answered yet.' }
  const remedy =
    'Set the clock of the laptop: lights do not need it, the log of the night and the line check do.'
  const said = new Date(server.at + server.offset * 60_000).toISOString().slice(0, 16).replace('T', ', ')
  if (server.at < EARLIEST || server.newest > server.at + AHEAD) {
    return {
      ...row,
      result: 'heed',
      says:
        server.at < EARLIEST
          ? `It says ${said}, which cannot be.`
          : `It says ${said}, but files of the show are dated later.`,
      remedy,
    }
  }
  if (Math.abs(page.at - server.at) > APART) {
    const minutes = Math.round(Math.abs(page.at - server.at) / 60_000)
    return {
      ...row,
      result: 'heed',
      says: `The laptop says ${said}; this device is ${counted(minutes, 'minute')} away from it.`,
      remedy,
    }
  }
  return { ...row, result: 'good', says: `${said}; nothing speaks against it.` }
}

export function pagesRow({ server }: Facts): Row {
  const row = { id: 'pages', checked: 'Who else is connected' } as const
  if (!server) return { ...row, result: 'unknown', says: 'The server has not answered yet.' }
  const others = server.pages.length - 1
  if (others <= 0) return { ...row, result: 'good', says: 'This page is the only one.' }
  const hands = server.pages.filter(role => isAtLeast(role, 'controller')).length - 1
  if (hands <= 0)
    return { ...row, result: 'good', says: `${counted(others, 'page')} beside this one, looking on.` }
  return {
    ...row,
    result: 'heed',
    says: `${counted(hands, 'page')} beside this one can press what this one can, of ${others} that are connected.`,
    remedy: 'Close what nobody needs tonight, or let it look on.',
    mend: { do: 'go', place: 'phones' },
  }
}

export function understudyRow({ status }: Facts): Row {
  const row = { id: 'understudy', checked: 'The understudy is in step' } as const
  const mend = { do: 'go', place: 'outputs' } as const
  if (!status) return { ...row, result: 'unknown', says: 'The light engine does not answer.' }
  const { state, partner, well, says } = status.understudy
  if (state === 'off' && says === '') {
    return {
      ...row,
      result: 'unknown',
      says: 'No second laptop stands by: if this one dies, the light stays.',
    }
  }
  if (state === 'open' || !partner) {
    return {
      ...row,
      result: well === 'stop' ? 'stop' : 'heed',
      says: says === '' ? 'A second laptop may follow, and none does.' : `${says}.`,
      remedy: 'Type the code on the second laptop, or close the way for it.',
      mend,
    }
  }
  if (well === 'good') return { ...row, result: 'good', says: `${says}.` }
  return {
    ...row,
    result: well,
    says: `${says}.`,
    remedy:
      'Look at both laptops: the same network, the same show; part them and pair them again if need be.',
    mend,
  }
}
