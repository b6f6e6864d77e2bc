// The show as a file: out of this machine, into it, and from one show that is here to another.

import type { Problem } from '@glowchart/shared/errors.ts'
import { useEffect, useRef, useState } from 'react'
import { say } from '../document/session.ts'

interface Listed {
  readonly id: string
  readonly name: string
}

/** What the server answers to a request that takes a show in. */
async function ask(path: string, body?: Blob): Promise<Problem | null> {
  try {
    const answer = await fetch(path, { method: 'POST', ...(body && { body }) })
    return answer.ok ? null : ((await answer.json()) as Problem)
  } catch {
    return {
      code: 'request.failed',
      message: 'the server gave no answer',
      where: path,
      remedy: 'See whether Glowchart still runs, and try again.',
    }
  }
}

/** The band's show, with its rig and recordings, in one file. Another one that comes in takes this one's place on the page. */
export function ShowFile({ id }: { id: string }) {
  const [shows, setShows] = useState<Listed[]>([])
  const [problem, setProblem] = useState<Problem | null>(null)
  const [waiting, setWaiting] = useState<File | null>(null)
  const [busy, setBusy] = useState(false)
  const input = useRef<HTMLInputElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another show may have come in with the one that is open now.
  useEffect(() => {
    let wanted = true
    void fetch('/api/shows')
      .then(answer => answer.json())
      .then((listed: { shows: Listed[] }) => wanted && setShows(listed.shows))
      .catch(() => {})
    return () => {
      wanted = false
    }
  }, [id])

  const take = async (file: File, replace: boolean) => {
    setBusy(true)
    setWaiting(null)
    const found = await ask(
      `/api/import?file=${encodeURIComponent(file.name)}${replace ? '&replace=yes' : ''}`,
      file,
    )
    setBusy(false)
    // The one refusal that a press can answer.
    if (found?.code === 'import.exists') setWaiting(file)
    setProblem(found)
    if (!found) say(`${file.name} is open`)
  }
  return (
    <section className="show-file" aria-label="Show file">
      <h3>Show file</h3>
      <input
        ref={input}
        type="file"
        accept=".json,application/json"
        aria-label="Show file to take in"
        hidden
        onChange={event => {
          const file = event.currentTarget.files?.[0]
          event.currentTarget.value = ''
          if (file) void take(file, false)
        }}
      />
      <p>
        <a className="btn" href="/api/export" download>
          Export
        </a>
        <button type="button" className="btn" disabled={busy} onClick={() => input.current?.click()}>
          {busy ? 'Reading' : 'Take in a file'}
        </button>
      </p>
      {shows.length > 1 && (
        <label className="field">
          Show on this machine
          <select
            value={id}
            onChange={async event =>
              setProblem(await ask(`/api/open?show=${encodeURIComponent(event.target.value)}`))
            }
          >
            {shows.map(show => (
              <option key={show.id} value={show.id}>
                {show.name}
              </option>
            ))}
          </select>
        </label>
      )}
      {problem && (
        <p className="hint" role="alert">
          {problem.where}: {problem.message}. {problem.remedy}
        </p>
      )}
      {waiting && (
        <p>
          <button type="button" className="btn outline" onClick={() => void take(waiting, true)}>
            Put it in the place of the one here
          </button>
          <button
            type="button"
            className="btn quiet"
            onClick={() => {
              setWaiting(null)
              setProblem(null)
            }}
          >
            Leave it
          </button>
        </p>
      )}
    </section>
  )
}
