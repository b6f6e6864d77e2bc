// Finds or brings a real browser for the tests, and starts it so that it talks to nobody but us; one for all files of a run.

import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { brotliDecompressSync } from 'node:zlib'
import { type Browser, type BrowserServer, chromium, type LaunchOptions } from 'playwright-core'

/** Without these it looks up addresses on the internet as it starts. */
const QUIET = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
]
const ROOT = process.getuid?.() === 0 ? ['--no-sandbox'] : []
const SYSTEM = '/usr/bin/chromium'

/** Where the browser of this run of tests listens, if it has one. */
const SERVED = 'GLOWCHART_SERVED_BROWSER'

/**
 * The run's own browser, where one is served: closing it closes the contexts that were opened here, and no others.
 * Else a new one.
 */
export async function openBrowser(): Promise<Browser> {
  const served = process.env[SERVED]
  return served ? chromium.connect(served) : start(options => chromium.launch(options))
}

/** Starts a browser for this process and all that it starts from now on. */
export async function serveBrowser(): Promise<BrowserServer> {
  const server = await start(options => chromium.launchServer({ ...options, host: '127.0.0.1' }))
  process.env[SERVED] = server.wsEndpoint()
  return server
}

/** In this order: GLOWCHART_BROWSER (a path), Chrome, Edge, Debian's Chromium, the one an npm package brings (Linux x64). */
async function start<T>(by: (options: LaunchOptions) => Promise<T>): Promise<T> {
  const args = [...QUIET, ...ROOT]
  const named = process.env.GLOWCHART_BROWSER
  if (named) return by({ executablePath: named, args })
  const tries: LaunchOptions[] = [
    { channel: 'chrome' },
    { channel: 'msedge' },
    ...(existsSync(SYSTEM) ? [{ executablePath: SYSTEM }] : []),
  ]
  for (const options of tries) {
    try {
      return await by({ ...options, args })
    } catch {
      // Not on this machine.
    }
  }
  return by(bundled(args))
}

/** Unpacks the browser that @sparticuz/chromium carries, once a machine. */
function bundled(args: string[]): LaunchOptions {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error('No browser found: install Chrome or Chromium, or name one in GLOWCHART_BROWSER.')
  }
  const packed = join(
    dirname(createRequire(import.meta.url).resolve('@sparticuz/chromium/package.json')),
    'bin',
  )
  const folder = join(tmpdir(), 'glowchart-browser-143')
  const executablePath = join(folder, 'chromium')
  if (!existsSync(join(folder, 'ready'))) {
    mkdirSync(folder, { recursive: true })
    writeFileSync(executablePath, brotliDecompressSync(readFileSync(join(packed, 'chromium.br'))), {
      mode: 0o755,
    })
    for (const name of ['al2023', 'swiftshader', 'fonts']) {
      execFileSync('tar', ['-x', '-C', folder], {
        input: brotliDecompressSync(readFileSync(join(packed, `${name}.tar.br`))),
      })
    }
    // Without a configuration of its own, text is blank.
    writeFileSync(
      join(folder, 'fonts.conf'),
      `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${folder}/fonts</dir><cachedir>${folder}/cache</cachedir></fontconfig>`,
    )
    writeFileSync(join(folder, 'ready'), '')
  }
  return {
    executablePath,
    args: [
      ...args.filter(arg => arg !== '--disable-gpu'),
      '--use-gl=angle',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
    ],
    env: {
      ...process.env,
      LD_LIBRARY_PATH: `${folder}/al2023/lib:${folder}/lib:${folder}`,
      FONTCONFIG_FILE: join(folder, 'fonts.conf'),
    } as Record<string, string>,
  }
}
