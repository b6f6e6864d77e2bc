// A supply as a bar: solid for the brightest moment, hatched for all white, a tick at what it is loaded with for long,
// red hatch for what is over that.

import { ampsText } from '../words.ts'

interface Props {
  name: string
  /** A; null while nothing has been metered. */
  peak: number | null
  /** Everything on. */
  white: number
  /** What the supply is loaded with for long at most, and what it can give. */
  continuous: number
  supply: number
  /** Of the supply: the share for long. */
  share: number
}

export function PowerBar({ name, peak, white, continuous, supply, share }: Props) {
  const most = Math.max(supply, white, peak ?? 0)
  const at = (amps: number): string => `${(100 * amps) / most}%`
  const over = peak !== null && peak > continuous + 1e-6 ? peak - continuous : 0
  const percent = Math.round(share * 100)
  const says = `${name}: ${peak === null ? 'not metered yet' : `${ampsText(peak)} at the brightest`}, ${ampsText(white)} all white, of ${ampsText(continuous)}, which is ${percent} % of ${ampsText(supply)}`
  return (
    <div className="power-bar" role="img" aria-label={says}>
      <span className="white" style={{ width: at(white) }} />
      {peak !== null && <span className="peak" style={{ width: at(Math.min(peak, continuous)) }} />}
      {over > 0 && <span className="over" style={{ left: at(continuous), width: at(over) }} />}
      <span className="limit" style={{ left: at(continuous) }} />
      <span className="tick first">0</span>
      <span className="tick" style={{ left: at(continuous) }}>
        {percent} % of {Number(supply.toFixed(1))} A
      </span>
      {continuous / most < 0.8 && (
        <span className="tick last" style={{ left: at(supply) }}>
          {Number(supply.toFixed(1))} A
        </span>
      )}
    </div>
  )
}
