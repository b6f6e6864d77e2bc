// Loaded before a drilled process (node --require): every thread writes down its heap every two seconds, for its slope.

const { appendFileSync } = require('node:fs')
const { threadId } = require('node:worker_threads')
const { basename } = require('node:path')

const file = process.env.GLOWCHART_HEAP
const entry = basename(process.argv[1] ?? '', '.js')
if (file) {
  const note = () => {
    const { heapUsed, external, arrayBuffers } = process.memoryUsage()
    const at = Number(process.hrtime.bigint()) / 1e6
    const row = {
      at,
      pid: process.pid,
      entry,
      thread: threadId,
      heap: heapUsed,
      external: external + arrayBuffers,
    }
    try {
      appendFileSync(file, `${JSON.stringify(row)}\n`)
    } catch {
      // The drill is over, and its folder gone.
    }
  }
  setInterval(note, 2000).unref()
}
