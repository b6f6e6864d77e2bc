// Starts the engine and the app, watches both, starts them again, and hands a new engine the old one's last state.

import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { FromEngine, Resume } from '@glowchart/shared/messages.ts'
import { afterChange } from '@glowchart/shared/show/change.ts'
import type { FromSupervisor, ToSupervisor } from './app/supervisor-link.ts'
import { pipeLink } from './engine/link.ts'
import { connectPipe, engineAddress } from './engine/pipe.ts'
import { keepNight } from './night/keeper.ts'

/**
 * An engine that says nothing for this many looks in a row hangs, and is started anew; one that then cannot speak
 * either is given twice as many, and so on: on a starved machine every start takes more of what is short.
 */
const SILENT_LOOKS = 8
const MOST_SILENT_LOOKS = 64
const LOOK_MS = 500
/** The spare engine is loaded this long after the last one began, away from the busiest moment. */
const SPARE_MS = 3000
const ENGINE_RETRY_MS = 250
const APP_RETRY_MS = [100, 200, 500, 1000, 2000]
/** The app's exit code for "cannot work here at all" (port taken, folder locked): starting it again would not help. */
export const HOPELESS = 3

export interface SupervisorOptions {
  dataFolder: string
  /** Passed on to the app's entry, after the data folder. */
  appArguments: string[]
  /** Passed on to the engine's entry, after the data folder. */
  engineArguments: string[]
}

/** Runs until stopped by a signal or by an app that cannot start. Resolves with the exit code. */
export function supervise(options: SupervisorOptions): Promise<number> {
  // Whoever read what is printed may be gone.
  process.stderr.on('error', () => {})
  const address = engineAddress(options.dataFolder)
  let holding: Extract<FromEngine, { type: 'holding' }> | null = null
  let resume: Resume | null = null
  let engine: ChildProcess | null = null
  let spare: ChildProcess | null = null
  /** The engine was started by an earlier supervisor. */
  let adopted = false
  let app: ChildProcess | null = null
  let ending = false
  let heard = 0
  let silent = 0
  let patience = SILENT_LOOKS
  let appTries = 0
  /** An app has worked here, as far as its end tells. */
  let appRan = false
  const link = pipeLink(address)
  const tellOffer = (): void => {
    if (app?.connected) app.send({ type: 'offer', offer: night.offer } satisfies FromSupervisor, () => {})
  }
  const night = keepNight({
    dataFolder: options.dataFolder,
    held: () => holding,
    link,
    onAnswered: tellOffer,
  })

  return new Promise(resolve => {
    const newSpare = (): ChildProcess | null => {
      spare ??= start('engine', [options.dataFolder, ...options.engineArguments])
      spare?.once('exit', () => {
        spare = null
      })
      return spare
    }
    /** The spare becomes the engine: it is loaded already, so the lights are back in a moment. */
    const startEngine = (): void => {
      if (ending) return
      heard = silent = 0
      const child = newSpare()
      if (!child) return void setTimeout(startEngine, ENGINE_RETRY_MS)
      child.removeAllListeners('exit')
      spare = null
      engine = child
      const began = Date.now()
      child.stdin!.on('error', () => {})
      child.stdin!.write(resume && holding ? 'resume\n' : 'go\n')
      child.once('exit', () => {
        engine = null
        // At once, for the lights; but one that cannot even start must not spin.
        setTimeout(startEngine, Date.now() - began > 1000 ? 0 : ENGINE_RETRY_MS)
      })
      setTimeout(() => {
        if (!ending) newSpare()
      }, SPARE_MS).unref()
    }
    const startApp = (): void => {
      if (ending) return
      const began = Date.now()
      app = start('app', [options.dataFolder, ...options.appArguments])
      if (!app) return void setTimeout(startApp, APP_RETRY_MS.at(-1))
      app.on('message', (message: ToSupervisor) => {
        if (message.type === 'ready') tellOffer()
        else if (message.type === 'note') night.note(message.kind, message.says, message.fault)
        else {
          if (message.how === 'goOn') night.note('server', 'The show goes on from where it was left.')
          night.answered()
        }
      })
      app.once('exit', code => {
        if (ending) return
        // Once one has run, the show is on: a disk that is full by now must not put the lights out.
        if (code === HOPELESS && !appRan) return end(1)
        appRan ||= code !== HOPELESS
        night.note('app', 'The server of the pages fell over and is started again; the lights go on.', true)
        // An app that ran for a while fell over something new; one that dies at once is given more time each try.
        appTries = Date.now() - began > 10_000 ? 0 : appTries + 1
        setTimeout(startApp, APP_RETRY_MS[Math.min(appTries, APP_RETRY_MS.length) - 1] ?? 0)
      })
    }

    // An engine that outlived an earlier supervisor is taken over as it plays.
    connectPipe(address, { message() {}, closed() {} }).then(
      pipe => {
        adopted = true
        pipe.close()
        night.note('server', 'Glowchart starts again beside an engine that has played on.')
        night.answered()
      },
      () => {
        night.note('server', 'Glowchart starts.')
        startEngine()
      },
    )
    startApp()

    link.on(message => {
      if (isSignOfLight(message)) heard++
      if (!ending) night.hear(message)
      if (message.type === 'up') {
        link.send({ type: 'watch' })
        if (holding) link.send({ ...holding, type: 'inherit' })
        if (resume) link.send({ type: 'resume', state: resume })
      } else if (message.type === 'holding') holding = message
      else if (message.type === 'changed') {
        if (holding?.revision === message.from) {
          holding = { type: 'holding', ...afterChange(holding, message), revision: message.revision }
        } else link.send({ type: 'watch' })
      } else if (message.type === 'resume') resume = message.state
      else if (message.type === 'down' && adopted && !ending) {
        // It is no child of ours, so its socket is all that tells.
        adopted = false
        startEngine()
      }
    })

    // Looks are counted, not timed: after the laptop slept, the first look finds the messages that waited.
    const watch = setInterval(() => {
      silent = heard > 0 ? 0 : silent + 1
      if (heard > 0) patience = SILENT_LOOKS
      heard = 0
      if (silent >= patience) {
        patience = Math.min(2 * patience, MOST_SILENT_LOOKS)
        process.stderr.write('The engine hangs; starting it again.\n')
        night.note('engine', 'The light engine hangs and is started again.', true)
        silent = 0
        if (engine) engine.kill('SIGKILL')
        else if (!adopted) startEngine()
      }
    }, LOOK_MS)

    const end = (code: number): void => {
      if (ending) return
      ending = true
      clearInterval(watch)
      night.note('server', 'Glowchart ends.')
      if (app?.connected) app.send({ type: 'end' } satisfies FromSupervisor, () => {})
      else app?.kill('SIGTERM')
      spare?.kill('SIGKILL')
      // An engine that was taken over, but never had an app of ours, is not ours to end.
      if (code === 0 || engine) link.send({ type: 'quit' })
      const last = setTimeout(() => {
        engine?.kill('SIGKILL')
        app?.kill('SIGKILL')
      }, 3000)
      const gone = Promise.all([exited(app), exited(engine), night.close()])
      gone.then(() => {
        clearTimeout(last)
        link.close()
        resolve(code)
      })
    }
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => end(0))
  })
}

/** The frame loop's own word; what the listening thread says by itself, as of the nodes it asks for, tells of no light. */
export const isSignOfLight = ({ type }: { type: FromEngine['type'] | 'up' | 'down' }): boolean =>
  type === 'status' || type === 'up'

const exited = (child: ChildProcess | null): Promise<void> =>
  new Promise(resolve => {
    if (!child || child.exitCode !== null || child.signalCode !== null) resolve()
    else child.once('exit', () => resolve())
  })

/**
 * Node's words for a process. V8 lets the memory for what was just made grow to 32 MiB a thread as soon as a busy
 * machine delays its sweeping, and seldom gives it back. The engine makes little and lets it go at once: 4 MiB a thread
 * are enough, and are swept in less time.
 */
const settings = { engine: ['--max-semi-space-size=2'], app: [] }

/** Null when the system has no process to give (memory, handles, Node itself gone): to be tried again. */
function start(entry: 'engine' | 'app', words: string[]): ChildProcess | null {
  const path = fileURLToPath(new URL(`./${entry}.js`, import.meta.url))
  const complain = (error: unknown): void =>
    void process.stderr.write(`The ${entry} cannot be started: ${(error as Error).message}\n`)
  try {
    const child = spawn(process.execPath, [...settings[entry], path, ...words], {
      stdio: entry === 'engine' ? ['pipe', 'inherit', 'inherit'] : ['ignore', 'inherit', 'inherit', 'ipc'],
    })
    child.on('error', complain)
    return child.pid === undefined ? null : child
  } catch (error) {
    complain(error)
    return null
  }
}
