// Run in a network namespace: sends frames at 40 Hz four ways and reports their status, until its input ends.

import { openOutputs } from '@glowchart/server/output/outputs.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'

const artnet = { protocol: 'artnet', host: '10.77.0.2', port: 6454 }
const sacn = { protocol: 'sacn', host: '10.77.0.2', port: 5568, mode: 'every' }
const output = outputSchema.parse({
  routes: [
    { universe: 1, to: { ...artnet, portAddress: 1 } },
    { universe: 1, via: '10.77.0.1', to: { ...artnet, portAddress: 2 } },
    { universe: 1, to: { ...sacn, wireUniverse: 3 } },
    { universe: 1, via: '10.77.0.1', to: { ...sacn, host: 'multicast', wireUniverse: 4 } },
  ],
})
const outputs = await openOutputs(output, { cid: new Uint8Array(16) })
const levels = new Uint8Array(512)
let frame = 0
const timer = setInterval(() => {
  levels.fill(frame & 255)
  outputs.send([1], levels, performance.now())
  if (frame++ % 4 === 0) process.stdout.write(`${JSON.stringify(outputs.status())}\n`)
}, 25)
process.stdin.on('end', () => {
  clearInterval(timer)
  void outputs.close()
})
process.stdin.resume()
