// What somebody sees who has not joined yet: a name and the PIN that stands on the laptop.

import { MOST_NAME } from '@glowchart/shared/access/access.ts'
import { type FormEvent, useState } from 'react'
import { Wordmark } from '../ui/signs.tsx'
import { join, pinInAddress } from './joining.ts'
import './access.css'

export function JoinPage() {
  const [pin, setPin] = useState(pinInAddress)
  const [name, setName] = useState('')
  const [fault, setFault] = useState('')
  const [isAsking, setIsAsking] = useState(false)
  const submit = async (event: FormEvent) => {
    event.preventDefault()
    if (isAsking) return
    if (name.trim() === '') return setFault('Say who you are: the laptop lists you by that name.')
    if (pin.trim() === '') return setFault('Type the PIN that the laptop shows.')
    setIsAsking(true)
    setFault(await join(pin, name.trim()))
    setIsAsking(false)
  }
  return (
    <main className="whole join-page">
      <p className="mark-of-tool">
        <Wordmark />
        <span>Glowchart</span>
      </p>
      <h1>Look on</h1>
      <p>You will see the song and the stage. The controls stay at the laptop until they are given to you.</p>
      <form onSubmit={submit} noValidate>
        <label className="field">
          Your name
          <input
            value={name}
            maxLength={MOST_NAME}
            autoComplete="nickname"
            onChange={e => setName(e.target.value)}
          />
        </label>
        <label className="field">
          PIN on the laptop
          <input
            className="pin"
            value={pin}
            maxLength={20}
            inputMode="numeric"
            autoComplete="off"
            aria-invalid={fault !== ''}
            aria-describedby="join-fault"
            onChange={e => setPin(e.target.value)}
          />
        </label>
        <p id="join-fault" className="fault" role="alert">
          {fault}
        </p>
        <button type="submit" className="btn go" aria-disabled={isAsking}>
          {isAsking ? 'Asking…' : 'Join'}
        </button>
      </form>
    </main>
  )
}
