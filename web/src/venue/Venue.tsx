// The venue tonight: how bright, how late, what the house does not allow. It belongs to the kit that stands.

import type { Show } from '@glowchart/shared/show/schema.ts'
import { MOST_FLASHES, MOST_OFFSET } from '@glowchart/shared/show/venue.ts'
import { edit } from '../document/editing.ts'
import { NumberBox } from '../output/NumberBox.tsx'
import { HouseInput } from './HouseInput.tsx'
import './venue.css'

/** The rates that houses and their guidelines name: 3 (WCAG 2.2, 2.3.1), 4 (UK HSE on strobes), and what is faster. */
const RATES = [3, 4, 5, 8, 10]

export function Venue({ show }: { show: Show }) {
  const kit = show.tonight
  const { trim = 1, highest = 1, strobes, lightOffset = 0, house } = show.kits[kit]!.venue ?? {}
  const rates = typeof strobes === 'number' && !RATES.includes(strobes) ? [...RATES, strobes] : RATES
  return (
    <section className="venue" aria-labelledby="venue-title">
      <h2 id="venue-title">Venue tonight</h2>
      <p>
        It goes with the kit {show.kits[kit]!.name}, and holds for the picture of the stage and the wire
        alike.
      </p>
      <div className="fields">
        <NumberBox
          label="Grand trim, %"
          value={Math.round(trim * 100)}
          min={0}
          max={100}
          onChange={to => edit('setVenue', { kit, trim: to === 100 ? null : to / 100 })}
        />
        <NumberBox
          label="Grand master at most, %"
          value={Math.round(highest * 100)}
          min={0}
          max={100}
          onChange={to => edit('setVenue', { kit, highest: to === 100 ? null : to / 100 })}
        />
        <label className="field">
          Strobes
          <select
            value={strobes ?? ''}
            onChange={({ target: { value } }) =>
              void edit('setVenue', {
                kit,
                strobes: value === '' ? null : value === 'none' ? value : Number(value),
              })
            }
          >
            <option value="">As written</option>
            {rates
              .filter(rate => rate <= MOST_FLASHES)
              .sort((a, b) => a - b)
              .map(rate => (
                <option key={rate} value={rate}>
                  At most {rate} flashes/s
                </option>
              ))}
            <option value="none">No strobe</option>
          </select>
        </label>
        <NumberBox
          label="Light late, ms"
          value={lightOffset}
          min={-MOST_OFFSET}
          max={MOST_OFFSET}
          onChange={to => edit('setVenue', { kit, lightOffset: to === 0 ? null : to })}
        />
      </div>
      {lightOffset !== 0 && (
        <p>
          Light comes {Math.abs(lightOffset)} ms {lightOffset > 0 ? 'after' : 'before'} the clock.
        </p>
      )}
      {strobes !== undefined && (
        <p>
          {strobes === 'none' ? 'Every strobe' : 'A strobe that is faster'} stands steady, as bright as its
          mean. Only strobes are held: fast chases and pulses still flash, and the advice counts them. Notices
          at the door and the house’s own rules come first.
        </p>
      )}
      <HouseInput kit={kit} input={house} kept={show.output.routes} />
    </section>
  )
}
