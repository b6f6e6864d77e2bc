// What the supervisor does where the system gives it no process, and what it takes for a sign that light leaves.

import { spawn } from 'node:child_process'
import { isSignOfLight } from '@glowchart/server/supervisor.ts'
import { expect, it } from 'vitest'
import { ended, mainPath, tempFolder } from '../support/processes.ts'

it('goes on trying where no process can be started, and ends when it is told to', async () => {
  const folder = tempFolder()
  // Node's own file is gone, as while it is updated.
  const nowhere = `data:text/javascript,process.execPath=${JSON.stringify(`${folder.path}/node`)}`
  const words = ['--import', nowhere, mainPath, 'serve', 'demo', '--port', '0', '--data', folder.path]
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'pipe'] })
  const end = ended(child)
  let said = ''
  child.stderr.on('data', chunk => {
    said += chunk
    if (said.split('The engine cannot be started').length > 2) child.kill('SIGTERM')
  })
  const { code, stderr } = await end
  expect([code, stderr]).toEqual([0, expect.stringContaining('ENOENT')])
  folder.remove()
})

it('takes the word of the frame loop for a sign of light, and none of what the other thread says while that hangs', () => {
  const said = ['status', 'up', 'network', 'touched', 'answer', 'changed', 'down'] as const
  expect(said.filter(type => isSignOfLight({ type }))).toEqual(['status', 'up'])
})
