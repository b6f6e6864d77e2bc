// Listens through a recording beside the page: its outline, or its beats.

import { CodedError } from '@glowchart/shared/errors.ts'
import { findBeats } from './find-beats.ts'
import type { FromListener, ToListener } from './listening.ts'
import { peaksOf } from './peaks.ts'

const tell = (said: FromListener) => self.postMessage(said)

self.onmessage = ({ data: { find, samples, where } }: MessageEvent<ToListener>) => {
  if (find === 'peaks') return tell({ type: 'peaks', peaks: peaksOf(samples) })
  try {
    const beats = findBeats(samples, where, share => tell({ type: 'progress', share }))
    tell({ type: 'beats', beats })
  } catch (error) {
    if (!(error instanceof CodedError)) throw error
    tell({ type: 'refused', problem: error.problem })
  }
}
