// A receiver by its address: for nodes that a broadcast does not find, and for sACN, where nobody is asked.

import { type FormEvent, useState } from 'react'
import { type Host, hostOf, type Protocol, protocolName } from './routes.ts'

export function AddReceiver({ onAdd }: { onAdd: (host: Host) => unknown }) {
  const [protocol, setProtocol] = useState<Protocol>('artnet')
  const [text, setText] = useState('')
  const [fault, setFault] = useState('')
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const host = hostOf(protocol, text)
    setFault(typeof host === 'string' ? host : '')
    if (typeof host === 'string') return
    setText('')
    onAdd(host)
  }
  return (
    <form className="add-receiver" onSubmit={submit} noValidate>
      <fieldset>
        <legend>By address</legend>
        {(['artnet', 'sacn'] as const).map(p => (
          <label key={p}>
            <input type="radio" name="protocol" checked={protocol === p} onChange={() => setProtocol(p)} />
            {protocolName(p)}
          </label>
        ))}
      </fieldset>
      <div className="row">
        <label className="field">
          Address of the node
          <input
            value={text}
            placeholder="10.0.0.20"
            spellCheck={false}
            autoComplete="off"
            aria-invalid={fault !== ''}
            aria-describedby="host-fault"
            onChange={e => setText(e.target.value.trim())}
          />
        </label>
        <button type="submit" className="btn">
          Add
        </button>
      </div>
      <p id="host-fault" className="fault" role="status">
        {fault}
      </p>
    </form>
  )
}
