// Fuzzed: a running app, by its live socket and its HTTP routes; it answers afterwards, and nothing outside its folder is touched.

import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { join } from 'node:path'
import { bundleText } from '@glowchart/shared/show/bundle.ts'
import { canonicalText } from '@glowchart/shared/show/canonical.ts'
import { runApp } from '../app/running-app.ts'
import { randomEdit } from '../show/random-edits.ts'
import { sampleDocuments } from '../show/samples.ts'
import type { Area, Outcome } from './area.ts'
import { spoiltJson, spoiltText } from './spoil.ts'

/** Messages as pages send them. */
const messages = [
  { type: 'transport', seq: 1, transport: { do: 'play' } },
  { type: 'live', seq: 2, live: { grand: 0.5, blackout: false, lit: ['a'] } },
  { type: 'check', seq: 3, check: null },
  { type: 'output', seq: 4, output: null },
  { type: 'discover', seq: 5, discover: { hosts: [] } },
  { type: 'undo', seq: 6, revision: 2 },
  { type: 'frames', on: true },
  { type: 'midi', bytes: [248], at: 1 },
  { type: 'clockPing', at: 1 },
]

export async function liveSocket(): Promise<Area> {
  const running = await runApp()
  const { rig, show } = sampleDocuments()
  let raw = await running.openRaw()
  let pings = 0
  let answered = 0
  return {
    async one(next): Promise<Outcome> {
      const documents = { rig, show }
      const { name, args } = randomEdit(documents, next, Math.floor(next() * 1e9))
      const edit = { type: 'edit', seq: 7, edit: name, args }
      const message = spoiltJson(next() < 0.5 ? edit : messages[Math.floor(next() * messages.length)], next)
      const text = JSON.stringify(message)
      raw.messages.length = 0
      raw.socket.send(next() < 0.2 ? spoiltText(text, next) : text, { binary: next() < 0.05 })
      const at = ++pings
      raw.socket.send(JSON.stringify({ type: 'clockPing', at }))
      const isAnswered = () => raw.messages.some(m => m.type === 'clockPong' && m.at === at)
      while (!isAnswered() && raw.socket.readyState <= 1) await new Promise(resolve => setImmediate(resolve))
      // One that floods is cut off, and may come back.
      if (!isAnswered()) raw = await running.openRaw()
      const failed = raw.messages.find(m => m.type === 'refused' && m.problem.code === 'request.failed')
      if (failed) throw new Error(`${text.slice(0, 300)}: ${JSON.stringify(failed)}`)
      // What nobody reads up is thrown away with the socket.
      if (++answered % 500 === 0) {
        raw.socket.terminate()
        raw = await running.openRaw()
      }
      return raw.messages.some(m => m.type === 'refused') ? 'refused' : 'taken'
    },
    async close() {
      raw.socket.terminate()
      await running.close()
    },
  }
}

const odd = [
  '..%2f..%2fsecret',
  '%00',
  '../../secret',
  '%2e%2e/%2e%2e/secret',
  'x'.repeat(3000),
  '%ff',
  '?replace=yes&replace=no',
  '__proto__',
]

export async function httpBodies(): Promise<Area> {
  const running = await runApp()
  const secret = join(running.data, '..', 'glowchart-fuzz-secret')
  writeFileSync(secret, 'secret')
  const { port } = new URL(running.url)
  const text = bundleText(sampleDocuments())

  /** As it is written: fetch would mend the path. */
  function ask(method: string, path: string, body: string): Promise<{ status: number; text: string }> {
    return new Promise((resolve, reject) => {
      const headers = { host: `localhost:${port}`, 'content-type': 'application/json' }
      const asked = request({ host: '127.0.0.1', port, method, path, headers }, answer => {
        let got = ''
        answer.setEncoding('utf8')
        answer.on('data', chunk => {
          got += chunk
        })
        answer.on('end', () => resolve({ status: answer.statusCode!, text: got }))
      })
      asked.on('error', reject)
      asked.end(body)
    })
  }

  return {
    async one(next): Promise<Outcome> {
      const name = odd[Math.floor(next() * odd.length)]!
      const paths: [string, string][] = [
        ['POST', `/api/import?replace=yes&file=${encodeURIComponent(name)}`],
        ['POST', `/api/open?show=${name}`],
        ['POST', `/api/audio?name=${name}`],
        ['GET', `/api/audio/${name}`],
        ['GET', `/api/export?show=${name}`],
        ['GET', `/${name}`],
        ['PUT', `/api/${name}`],
      ]
      const [method, path] = paths[Math.floor(next() * paths.length)]!
      const body =
        method === 'GET'
          ? ''
          : next() < 0.5
            ? spoiltText(text, next)
            : JSON.stringify(spoiltJson(JSON.parse(text), next))
      const answer = await ask(method, path, body)
      if (answer.status >= 500)
        throw new Error(`${method} ${path}: ${answer.status} ${answer.text.slice(0, 300)}`)
      if (answer.text === 'secret') throw new Error(`${method} ${path} read a file outside its folder`)
      if (answer.status >= 400 && answer.text && !JSON.parse(answer.text).code)
        throw new Error(`${method} ${path}: no coded error`)
      return answer.status >= 400 ? 'refused' : 'taken'
    },
    async close() {
      if (!existsSync(secret) || readFileSync(secret, 'utf8') !== 'secret')
        throw new Error('a file outside was touched')
      // It still serves what it holds.
      const { text: exported } = await ask('GET', '/api/export', '')
      canonicalText(JSON.parse(exported))
      await running.close()
    },
  }
}
