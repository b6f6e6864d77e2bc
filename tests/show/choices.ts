// Random things of a show to edit, chosen to be there (mostly).

import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** Numbers in [0, 1). */
export type Random = () => number

export class Choices {
  readonly documents: Documents
  readonly fresh: string
  private readonly random: Random
  private chosen: string | undefined

  constructor(documents: Documents, random: Random, fresh: string) {
    this.documents = documents
    this.random = random
    this.fresh = fresh
  }
  of<T>(items: readonly T[]): T {
    return items[Math.floor(this.random() * items.length)]!
  }
  key(items: object): string {
    return this.of(Object.keys(items)) ?? 'gone'
  }
  int(from: number, to: number): number {
    return from + Math.floor(this.random() * (to - from + 1))
  }
  chance(share: number): boolean {
    return this.random() < share
  }
  share(): number {
    return Math.round(this.random() * 1000) / 1000
  }
  /** Songs with something in them are chosen more often; one call, one song. */
  get song(): string {
    const { songs, songOrder } = this.documents.show
    const full = songOrder.filter(id => Object.keys(songs[id]!.tracks).length > 0)
    this.chosen ??= this.of(full.length > 0 && this.chance(0.9) ? full : songOrder) ?? 'gone'
    return this.chosen
  }
  get #song() {
    return this.documents.show.songs[this.song]
  }
  get section(): string {
    return this.key(this.#song?.sections ?? {})
  }
  get copy(): string {
    const sections = this.#song?.sections ?? {}
    return this.of(Object.keys(sections).filter(id => sections[id]!.sameAs)) ?? this.section
  }
  get track(): string {
    return this.key(this.#song?.tracks ?? {})
  }
  get ref(): { section: string; cue: string } {
    const sections = this.#song?.sections ?? {}
    const lit = Object.keys(sections).filter(id => Object.keys(sections[id]!.cues).length > 0)
    const section = this.of(lit) ?? 'gone'
    return { section, cue: this.key(sections[section]?.cues ?? {}) }
  }
  refs(): { section: string; cue: string }[] {
    const all = Array.from({ length: this.int(1, 3) }, () => this.ref)
    return all.filter((a, i) => all.findIndex(b => a.section === b.section && a.cue === b.cue) === i)
  }
  beforeIn(order: readonly string[] | undefined): string | null {
    return this.chance(0.3) ? null : (this.of(order ?? []) ?? null)
  }
  get sectionBefore(): string | null {
    return this.beforeIn(this.#song?.sectionOrder)
  }
  get trackBefore(): string | null {
    return this.beforeIn(this.#song?.trackOrder)
  }
  get hex(): string {
    return `#${this.int(0, 0xffffff).toString(16).padStart(6, '0')}`
  }
  get name(): string {
    return this.of(['Wingbeat', 'Ash', 'Tin roof', 'Ünder "glass"', 'x'])
  }
  colour(): unknown {
    return this.chance(0.7) ? { swatch: this.key(this.documents.show.swatches) } : { hex: this.hex }
  }
  light(): unknown {
    const kind = this.of(['sustain', 'chase', 'strobe', 'drift'])
    const along = this.of(['none', 'part', 'time', 'motion'])
    const stops = [0, 0.4, 1].map(at => ({ at, colour: this.colour() }))
    const colours = along === 'none' ? { along, colour: this.colour() } : { along, stops }
    const points = [0, 960, 4000].map(at => ({ at, level: this.share() }))
    return { level: this.chance(0.5) ? this.share() : points, colours, motion: { kind } }
  }
  /** Mostly inside a section. */
  tick(): number {
    return this.int(-8, 130) * 240
  }
  cue(): unknown {
    const look = this.key(this.documents.show.looks)
    return {
      track: this.track,
      at: this.tick(),
      length: this.int(1, 20_000),
      light: this.chance(0.2) ? { look } : this.light(),
      ...(this.chance(0.3) ? { fadeIn: { length: this.int(0, 4000), curve: 'soft' } } : {}),
    }
  }
  audio(): unknown {
    return {
      file: `${'0a'.repeat(32)}.flac`,
      name: this.name,
      seconds: this.int(1, 400),
      start: this.int(-3, 9),
    }
  }
  phrase(): unknown {
    const notes = [0, 480, 960].map(at => [at, 240, this.int(30, 90), this.int(1, 127)])
    const voice = this.of(['drums', 'bass', 'chords', 'lead'])
    return {
      voice,
      at: this.int(0, 40) * 240,
      length: this.int(1, 60) * 240,
      every: this.int(1, 8) * 960,
      notes,
    }
  }
  swatches(): Record<string, string> {
    const { swatches } = this.documents.show
    return this.chance(0.5) ? {} : { [this.key(swatches)]: this.key(swatches) }
  }
  get kit(): string {
    return this.key(this.documents.show.kits)
  }
  place(): unknown {
    return { x: this.int(-5, 5), y: this.int(0, 5), z: this.int(0, 3) }
  }
  meter(): unknown {
    return { beats: this.int(1, 9), unit: this.of([4, 8]) }
  }
}
