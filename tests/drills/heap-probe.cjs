// Loaded before a drilled process (node --require): every thread writes down what it holds every two seconds.

const { appendFileSync } = require('node:fs')
const { getHeapSpaceStatistics } = require('node:v8')
const { threadId } = require('node:worker_threads')

const file = process.env.GLOWCHART_HEAP
/** What comes and goes with every request, and holds nothing. */
const PASSING = new Set(['Timeout', 'Immediate'])

if (file) {
  const note = () => {
    // Resident memory is the whole process's; `external` holds the array buffers.
    const { rss, heapUsed, heapTotal, external } = process.memoryUsage()
    const young = getHeapSpaceStatistics().find(({ space_name: name }) => name === 'new_space').space_size
    const handles = process.getActiveResourcesInfo().filter(kind => !PASSING.has(kind)).length
    const row = {
      at: Number(process.hrtime.bigint()) / 1e6,
      pid: process.pid,
      thread: threadId,
      resident: rss,
      heap: heapUsed,
      committed: heapTotal,
      young,
      external,
      handles,
    }
    try {
      appendFileSync(file, `${JSON.stringify(row)}\n`)
    } catch {
      // The drill is over, and its folder gone.
    }
  }
  setInterval(note, 2000).unref()
}
