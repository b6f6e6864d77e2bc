// The empty chart: staff paper fading down, one sentence, and the ways to begin.

import { FromRecording } from '../recording/FromRecording.tsx'
import { openIntake } from './open.ts'

export function EmptyChart() {
  return (
    <section className="chart blank" aria-label="Chart">
      <p>A song begins with its sections.</p>
      <div className="ways">
        <button type="button" className="btn outline" data-opens="new" onClick={() => openIntake('new')}>
          Type its sections
        </button>
        <button type="button" className="btn outline" data-opens="midi" onClick={() => openIntake('midi')}>
          Take in a MIDI file
        </button>
        <FromRecording className="btn outline" says="Start from a recording" />
      </div>
      {[1, 0.8, 0.6, 0.4, 0.25].map(opacity => (
        <div key={opacity} className="staff" style={{ opacity }} />
      ))}
    </section>
  )
}
