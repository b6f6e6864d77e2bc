// Run in a network namespace: the hands at one laptop's page. Lines in are messages of a page; lines out what it hears.

import { createInterface } from 'node:readline'
import type { EngineStatus } from '@glowchart/shared/messages.ts'
import { openPage } from '../support/page-socket.ts'

const say = (value: unknown): void => void process.stdout.write(`${JSON.stringify(value)}\n`)
const page = await openPage(process.argv[2]!)
say({ hello: { songOrder: page.hello.show.songOrder } })
const watch = (status: EngineStatus): boolean => {
  const {
    understudy,
    song,
    playing,
    position,
    at,
    live,
    transport: _,
  } = status as EngineStatus & { transport?: unknown }
  say({ status: { understudy, song, playing, position, at, live, outputs: status.outputs.length } })
  return false
}
void page.status(watch)
let codes = 0
setInterval(() => {
  const all = page.messages.filter(message => message.type === 'code')
  for (; codes < all.length; codes++) say({ code: (all[codes] as { code: string }).code })
}, 20)
createInterface({ input: process.stdin })
  .on('line', line => {
    const { n, message } = JSON.parse(line)
    void page.ask(message).then(answer => say({ n, answer }))
  })
  .on('close', () => process.exit())
