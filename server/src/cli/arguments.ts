// What the commands have in common on the command line: options, the show that is meant, its song and kit.

import { type ParseArgsConfig, parseArgs } from 'node:util'
import { CodedError } from '@glowchart/shared/errors.ts'
import { patch } from '@glowchart/shared/rig/patch.ts'
import type { Bundle } from '@glowchart/shared/show/bundle.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { barStart } from '@glowchart/shared/time/meter.ts'
import type { Timeline } from '@glowchart/shared/time/timeline.ts'
import { type Ticks, ticks } from '@glowchart/shared/time/units.ts'
import { demoBundle } from '../demo/demo.ts'
import { readBundleFile } from './bundle-file.ts'

/** The words on the command line do not fit; `main` prints the usage and exits with 2. */
export class UsageError extends Error {}

/** Options and exactly one FILE|demo unless `files` says otherwise. */
export function optionsOf<const T extends NonNullable<ParseArgsConfig['options']>>(
  words: string[],
  options: T,
  files: 'one' | 'optional' = 'one',
) {
  const parsed = parse(words, options)
  const [file, ...more] = parsed.positionals
  if (more.length > 0) throw new UsageError(`One show at a time: "${more[0]}" is too many.`)
  if (files === 'one' && file === undefined) throw new UsageError('Name a show file, or demo.')
  return { file, values: parsed.values }
}

function parse<const T extends NonNullable<ParseArgsConfig['options']>>(words: string[], options: T) {
  try {
    return parseArgs({ args: words, options, allowPositionals: true, strict: true })
  } catch (error) {
    throw new UsageError((error as Error).message)
  }
}

/** @throws UsageError when the text is not a number in min…max */
export function numberOf(option: string, text: string, min: number, max: number): number {
  const value = Number(text)
  if (text.trim() === '' || !Number.isFinite(value) || value < min || value > max) {
    throw new UsageError(`--${option} takes a number from ${min} to ${max}, not "${text}".`)
  }
  return value
}

/** Frames a second: the show's own unless asked for. */
export const rateOf = (show: Show, rate: string | undefined): number =>
  rate === undefined ? show.output.rate : Math.round(numberOf('rate', rate, 1, 44))

/** The tick at which a 1-based bar begins. @throws CodedError `song.bar` past the song's end */
export function barTick(timeline: Timeline, bar: string | undefined): Ticks {
  if (bar === undefined) return ticks(0)
  const at = barStart(timeline.meters, Math.round(numberOf('from', bar, 1, 100_000)) - 1)
  if (at >= timeline.length)
    throw new CodedError('song.bar', `bar ${bar} lies past the end of the song`, `--from ${bar}`)
  return at
}

/** Reads the show that FILE|demo names. */
export const bundleOf = async (file: string): Promise<Bundle> =>
  file === 'demo' ? demoBundle() : readBundleFile(file)

/** The id of the song with this title; the first song when left out. */
export function songOf(show: Show, title: string | undefined): string {
  const found =
    title === undefined ? show.songOrder[0] : show.songOrder.find(id => same(show.songs[id]!.title, title))
  if (found === undefined) {
    throw new CodedError(
      'song.unknown',
      title === undefined ? 'there is no song yet' : `no song is called "${title}"`,
      show.name,
    )
  }
  return found
}

/** The id of the kit with this name; tonight's when left out. */
export function kitOf(show: Show, kit: string | undefined): string {
  const found =
    kit === undefined ? show.tonight : Object.keys(show.kits).find(id => same(show.kits[id]!.name, kit))
  if (found === undefined) throw new CodedError('kit.unknown', `no kit is called "${kit}"`, show.name)
  return found
}

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase()

export const routeOptions = {
  artnet: { type: 'string' },
  sacn: { type: 'string' },
  changes: { type: 'boolean' },
} as const

/** 15 bits (Art-Net 4). */
const MOST_PORT_ADDRESS = 32_767

/**
 * One route a universe of the kit and protocol asked for. On the command line every frame is sent unless
 * `--changes` asks for changes with keep-alive. Universe n goes out as E1.31 universe n and as Art-Net
 * Port-Address n − 1: many nodes count from 0 (common practice, no source), and the page shows both.
 */
export function routesOf(
  bundle: Bundle,
  kit: string,
  values: { artnet?: string | undefined; sacn?: string | undefined; changes?: boolean | undefined },
): Route[] {
  const universes = [
    ...new Set(patch(bundle.rig, bundle.show.kits[kit]!).entries.map(entry => entry.universe)),
  ]
  const mode = values.changes ? 'changes' : 'every'
  const routes: Route[] = []
  for (const universe of universes) {
    if (values.artnet !== undefined) {
      if (universe > MOST_PORT_ADDRESS + 1)
        throw new CodedError('output.portAddress', `Art-Net has no universe ${universe}`, '--artnet')
      const { host, port } = hostPort('artnet', values.artnet, 6454)
      routes.push({ universe, to: { protocol: 'artnet', host, port, portAddress: universe - 1, mode } })
    }
    if (values.sacn !== undefined) {
      const { host, port } =
        values.sacn === 'multicast' ? { host: 'multicast', port: 5568 } : hostPort('sacn', values.sacn, 5568)
      routes.push({
        universe,
        to: { protocol: 'sacn', host, port, wireUniverse: universe, priority: 100, preview: false, mode },
      })
    }
  }
  return routes
}

function hostPort(option: string, text: string, standard: number): { host: string; port: number } {
  const match = /^(\d{1,3}(?:\.\d{1,3}){3})(?::(\d{1,5}))?$/.exec(text)
  const octets = (match?.[1] ?? '').split('.').map(Number)
  const port = match?.[2] === undefined ? standard : Number(match[2])
  if (!match || octets.some(octet => octet > 255) || port < 1 || port > 65535) {
    throw new UsageError(
      `--${option} takes an IPv4 address, with a port if it is not ${standard}: not "${text}".`,
    )
  }
  return { host: match[1]!, port }
}
