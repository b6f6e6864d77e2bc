// A process that sends two Art-Net frames, 1.2 s apart, to the port given; says how many sockets it had; and ends by itself.

import { openOutputs } from '@glowchart/server/output/outputs.ts'
import { outputSchema } from '@glowchart/shared/show/output.ts'

const port = Number(process.argv[2])
const route = { universe: 1, to: { protocol: 'artnet', host: '127.0.0.1', port, portAddress: 1 } }
const outputs = await openOutputs(outputSchema.parse({ routes: [route] }), { cid: new Uint8Array(16) })
outputs.send([1], new Uint8Array(512).fill(11), 0)
await new Promise(resolve => setTimeout(resolve, 1200))
outputs.send([1], new Uint8Array(512).fill(22), 1200)
const sockets = process.getActiveResourcesInfo().filter(kind => kind === 'UDPWrap').length
process.stdout.write(JSON.stringify({ sockets }))
await outputs.close()
