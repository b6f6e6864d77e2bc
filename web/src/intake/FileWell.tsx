// Where a file is chosen, or dropped.

import { useState } from 'react'

interface Props {
  says: string
  /** As the browser's file dialogue takes it. */
  accept: string
  onFile: (file: File) => unknown
}

export function FileWell({ says, accept, onFile }: Props) {
  const [over, setOver] = useState(false)
  return (
    <label
      className={over ? 'file-well over' : 'file-well'}
      onDragOver={event => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={event => {
        event.preventDefault()
        setOver(false)
        const file = event.dataTransfer.files[0]
        if (file) onFile(file)
      }}
    >
      <span>{says}</span>
      <small>or drop it here</small>
      <input
        className="sr"
        type="file"
        accept={accept}
        onChange={event => {
          const file = event.target.files?.[0]
          // The same file chosen again must be read again.
          event.target.value = ''
          if (file) onFile(file)
        }}
      />
    </label>
  )
}
