// The clocks by their names, as the page says them.

import type { ClockStatus } from '@glowchart/shared/messages.ts'

export const clockNames: Readonly<Record<ClockStatus['source'], string>> = {
  internal: 'Own clock',
  midi: 'MIDI clock',
  mtc: 'Time code',
}

/** Why a tempo cannot be set here; undefined on our own clock. */
export const tempoRuler = (source: ClockStatus['source'] | undefined): string | undefined =>
  source === 'midi'
    ? 'The MIDI clock sets the tempo'
    : source === 'mtc'
      ? 'The time code sets the tempo'
      : undefined

/** Whether the tempo that sounds is another than the one written, and not by a hair that a clock trembles. */
export const differs = (bpm: number, speed: number): boolean => Math.abs(bpm - bpm / speed) >= 0.5

/** Pulses move the song, and nothing has said where it is. */
export const isEstimated = ({ estimated, lock }: ClockStatus): boolean =>
  estimated && (lock === 'locking' || lock === 'locked' || lock === 'lost')
