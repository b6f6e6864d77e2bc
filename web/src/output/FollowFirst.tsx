// Makes this laptop the understudy: finds one that lets itself be followed, or takes its address, and its code.

import { type FormEvent, useRef, useState } from 'react'
import { useSession } from '../document/session.ts'
import { askUnderstudy } from '../live/desk.ts'
import { onEscape } from '../ui/escape.ts'
import { hostOf } from './routes.ts'
import { ofUnderstudy } from './understudy-words.ts'

export function FollowFirst() {
  const found = useSession(s => s.status?.understudy.found ?? null)
  const refused = useSession(s => ofUnderstudy(s.problem))
  const [isOpen, setOpen] = useState(false)
  const [address, setAddress] = useState('')
  const [code, setCode] = useState('')
  const [lacks, setLacks] = useState<'address' | 'code' | null>(null)
  const [isAsking, setAsking] = useState(false)
  const opener = useRef<HTMLButtonElement>(null)
  const addressField = useRef<HTMLInputElement>(null)
  const codeField = useRef<HTMLInputElement>(null)

  const search = (on: boolean): void => void askUnderstudy({ do: 'search', on })
  const submit = async (event: FormEvent) => {
    event.preventDefault()
    if (isAsking) return
    const missing =
      typeof hostOf('artnet', address) === 'string' || address.includes(':')
        ? 'address'
        : code.trim() === ''
          ? 'code'
          : null
    setLacks(missing)
    if (missing === 'address') return addressField.current?.focus()
    if (missing === 'code') return codeField.current?.focus()
    setAsking(true)
    const one = found?.find(laptop => laptop.address === address)
    await askUnderstudy({ do: 'follow', address, code, ...(one && { port: one.port }) })
    setAsking(false)
  }
  if (!isOpen) {
    return (
      <div className="row">
        <button
          type="button"
          className="btn"
          ref={opener}
          onClick={() => {
            search(true)
            setOpen(true)
          }}
        >
          Make this laptop an understudy
        </button>
      </div>
    )
  }
  const fault =
    lacks === 'address'
      ? 'Type the first laptop’s address, such as 192.168.1.20: it stands there under Output.'
      : lacks === 'code'
        ? 'Type the code that the first laptop shows.'
        : refused
  return (
    <form onSubmit={event => void submit(event)} onKeyDown={onEscape(close)} noValidate>
      <p className="quiet">
        The first laptop’s show takes the place of the one here with the same name; the earlier version is
        kept.
      </p>
      <div className="row">
        {found?.map(laptop => (
          <button
            key={laptop.id}
            type="button"
            className="btn"
            aria-pressed={laptop.address === address}
            onClick={() => {
              setAddress(laptop.address)
              setLacks(null)
              codeField.current?.focus()
            }}
          >
            {laptop.name}, {laptop.address}
          </button>
        ))}
        <p className="quiet" role="status">
          {found === null
            ? 'The search is over.'
            : found.length === 0
              ? 'Looking for the first laptop: let an understudy follow there, or type its address.'
              : 'Choose the first laptop.'}
        </p>
        {found === null && (
          <button type="button" className="btn quiet" onClick={() => search(true)}>
            Search again
          </button>
        )}
      </div>
      <div className="row">
        <label className="field">
          Its address
          <input
            ref={addressField}
            // The form has come by a press: the hand is already here.
            // biome-ignore lint/a11y/noAutofocus: see above
            autoFocus
            value={address}
            placeholder="192.168.1.20"
            spellCheck={false}
            autoComplete="off"
            aria-invalid={lacks === 'address'}
            aria-describedby="follow-fault"
            onChange={e => setAddress(e.target.value.trim())}
          />
        </label>
        <label className="field">
          Its code
          <input
            ref={codeField}
            value={code}
            placeholder="XXXX-XXXX"
            spellCheck={false}
            autoComplete="off"
            aria-invalid={lacks === 'code'}
            aria-describedby="follow-fault"
            onChange={e => setCode(e.target.value)}
          />
        </label>
        <button type="submit" className="btn" aria-disabled={isAsking}>
          {isAsking ? 'Asking it…' : 'Follow it'}
        </button>
        <button type="button" className="btn quiet" onClick={close}>
          Cancel
        </button>
      </div>
      <p id="follow-fault" className="fault" role="alert">
        {fault}
      </p>
    </form>
  )

  function close(): void {
    search(false)
    setOpen(false)
    requestAnimationFrame(() => opener.current?.focus())
  }
}
