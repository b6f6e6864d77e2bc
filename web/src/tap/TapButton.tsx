// The button of the transport that begins to tap in.

import { Sign } from '../ui/signs.tsx'
import { armTaps, dropTaps, useTapping } from './tapping.ts'

export function TapButton() {
  const isArmed = useTapping(s => s.armed !== null)
  return (
    <button
      type="button"
      className="move"
      aria-label={isArmed ? 'Tapping in: drop the taps' : 'Tap in'}
      aria-pressed={isArmed}
      title={isArmed ? 'Drop the taps (Esc)' : 'Tap in the chosen part or look (R)'}
      onClick={() => (isArmed ? dropTaps() : armTaps())}
    >
      <Sign name="tap" />
    </button>
  )
}
