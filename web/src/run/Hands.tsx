// Hands and feet: what each pedal does next (and each is a button that does the same), masters, guard, blackout.

import type { Action } from '@glowchart/shared/trigger/action.ts'
import { LOOKS_ON, useLooksOn } from '../access/looking-on.ts'
import { useSession } from '../document/session.ts'
import { Blackout } from '../transport/Blackout.tsx'
import { GrandMaster } from '../transport/GrandMaster.tsx'
import { Sign } from '../ui/signs.tsx'
import { act, useDeed } from './act.ts'
import { Following } from './Following.tsx'
import { liftGuard, putOnGuard, useGuard } from './guard.ts'
import { HoldButton } from './HoldButton.tsx'

const names = { back: 'Back', stop: 'Stop', next: 'Next' } as const

const BACK = { do: 'back' } as const
const STOP = { do: 'stop' } as const
const NEXT = { do: 'next' } as const

export function Hands({ more, onMore, onDim }: { more: boolean; onMore: () => void; onDim: () => void }) {
  const looksOn = useLooksOn()
  // Nothing here would reach the light: what does, takes the room.
  const follows = useSession(s => s.status?.understudy.state === 'follows')
  return (
    <footer className={`hands${follows ? ' follows' : looksOn ? ' looks-on' : ''}`}>
      {looksOn && !follows && <p className="why">{LOOKS_ON}</p>}
      {follows ? (
        <Following />
      ) : (
        <>
          <Pedal className="back" name="Left pedal" hotkey="Backspace" action={BACK} />
          <Pedal className="stop" name="Second pedal" hotkey="s" action={STOP} />
          <Pedal className="onward" name="Third pedal" hotkey=" " action={NEXT} />
        </>
      )}
      <div className="masters">
        {!follows && <GrandMaster relative />}
        <div className="small-hands">
          {!looksOn && <Guard />}
          <HoldButton
            className="plain"
            hotkey="d"
            guarded={false}
            label="Dim the screen"
            fire={() => {
              onDim()
              return undefined
            }}
          >
            Dim
          </HoldButton>
          <HoldButton
            className="plain"
            hotkey="m"
            guarded={false}
            pressed={more}
            fire={() => {
              onMore()
              return undefined
            }}
          >
            More
          </HoldButton>
        </div>
      </div>
      {!follows && <Blackout />}
    </footer>
  )
}

function Pedal({
  className,
  name,
  hotkey,
  action,
}: {
  className: string
  name: string
  hotkey: string
  action: Action & { do: keyof typeof names }
}) {
  const deed = useDeed(action)
  const idle = deed === null || (deed.presses.length === 0 && !deed.live)
  return (
    <HoldButton className={`pedal ${className}`} hotkey={hotkey} idle={idle} fire={() => act(action)}>
      <span className="sr">{names[action.do]}: </span>
      <span className="foot" aria-hidden="true">
        <Sign name="pedal" /> {name}
      </span>
      <b>{deed?.says ?? 'Not connected'}</b>
      {deed?.more && <small>{deed.more}</small>}
    </HoldButton>
  )
}

function Guard() {
  const on = useGuard(s => s.on)
  return (
    <HoldButton
      className="plain guard"
      hotkey="g"
      guarded={false}
      pressed={on}
      label={on ? 'Guard on: lift it' : 'Guard lifted: put it on'}
      fire={() => {
        if (on) liftGuard()
        else putOnGuard()
        return undefined
      }}
    >
      <Sign name={on ? 'guard' : 'cross'} /> <span>{on ? 'Guard on' : 'Guard lifted'}</span>
    </HoldButton>
  )
}
