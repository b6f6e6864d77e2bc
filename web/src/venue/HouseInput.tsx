// The house input: whether the house's own desk may darken and dim the show, and by which slots of which universe.

import {
  housePlace,
  type HouseInput as Input,
  SHARES_REMEDY,
  sharesUniverse,
} from '@glowchart/shared/show/house-input.ts'
import type { Route } from '@glowchart/shared/show/output.ts'
import { edit } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { useLiveRoutes } from '../output/choosing.ts'
import { NumberBox } from '../output/NumberBox.tsx'
import { Sign } from '../ui/signs.tsx'

const FIRST: Input = { from: { protocol: 'sacn', universe: 100, port: 5568 }, blackout: 1, master: 2 }

interface HouseProps {
  kit: string
  input: Input | undefined
  /** Where the show was sent last time. */
  kept: readonly Route[]
}

export function HouseInput({ kit, input, kept }: HouseProps) {
  const live = useLiveRoutes()
  const shares = input !== undefined && sharesUniverse(input, live.length > 0 ? live : kept)
  const set = (house: Input | null) => void edit('setVenue', { kit, house })
  return (
    <>
      <h3>House input</h3>
      <p>
        The house may send its blackout and its master. They work over yours: the darker of the two wins, and
        the Run page says who holds what. Its blackout can leave people on stage in the dark: agree on it
        before doors, keep exits and steps lit by lights that are not in this show, and follow the house’s and
        the local rules.
      </p>
      <div className="fields">
        <label className="tick">
          <input
            type="checkbox"
            checked={input !== undefined}
            onChange={e => set(e.target.checked ? FIRST : null)}
          />
          Listen to the house
        </label>
        {input && <Place input={input} set={set} />}
        {input && (
          <>
            <Slot label="Slot of the blackout" input={input} field="blackout" set={set} />
            <Slot label="Slot of the master" input={input} field="master" set={set} />
          </>
        )}
      </div>
      {shares && (
        <p className="now" role="alert">
          <Sign name="specs" /> The show’s own light is sent on {housePlace(input)} too. {SHARES_REMEDY}
        </p>
      )}
      {input && <Heard />}
    </>
  )
}

interface Props {
  input: Input
  set: (input: Input) => void
}

function Place({ input, set }: Props) {
  const { from } = input
  return (
    <>
      <label className="field">
        It sends
        <select
          value={from.protocol}
          onChange={e =>
            set({
              ...input,
              from: e.target.value === 'artnet' ? { protocol: 'artnet', portAddress: 100 } : FIRST.from,
            })
          }
        >
          <option value="sacn">sACN</option>
          <option value="artnet">Art-Net</option>
        </select>
      </label>
      {from.protocol === 'sacn' ? (
        <NumberBox
          label="sACN universe"
          value={from.universe}
          min={1}
          max={63999}
          onChange={universe => set({ ...input, from: { ...from, universe } })}
        />
      ) : (
        <NumberBox
          label="Art-Net port address"
          value={from.portAddress}
          min={0}
          max={32767}
          onChange={portAddress => set({ ...input, from: { ...from, portAddress } })}
        />
      )}
    </>
  )
}

/** 0 is none. */
function Slot({ label, input, field, set }: Props & { label: string; field: 'blackout' | 'master' }) {
  return (
    <NumberBox
      label={`${label} (0: none)`}
      value={input[field] ?? 0}
      min={0}
      max={512}
      onChange={slot => {
        const { [field]: _was, ...rest } = input
        set(slot === 0 ? rest : { ...rest, [field]: slot })
      }}
    />
  )
}

function Heard() {
  const house = useSession(s => s.status?.house)
  if (!house) return <p role="status">The light engine does not answer.</p>
  const { state, source, blackout, grand, says } = house
  return (
    <p role="status" className="now">
      {state === 'off' && 'What runs now was published without it.'}
      {state === 'heard' &&
        `${source} is heard: ${blackout ? 'dark' : `master at ${Math.round(grand * 100)} %`}.`}{' '}
      {says}
    </p>
  )
}
