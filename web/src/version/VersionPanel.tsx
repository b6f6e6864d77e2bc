// The show version on the set list page: which one runs, what is not in it, publishing, taking in, going back.

import type { VersionChange } from '@glowchart/shared/version/changes.ts'
import { backFrom, type RunningVersion, type VersionEntry } from '@glowchart/shared/version/request.ts'
import type { Take } from '@glowchart/shared/version/take.ts'
import { Sign } from '../ui/signs.tsx'
import { ChangeList } from './ChangeList.tsx'
import { usePending, useVersion } from './running.ts'
import { StepDialog } from './StepDialog.tsx'
import { lookAt } from './step.ts'
import { shortHash, timeOf } from './words.ts'
import './version.css'

export function VersionPanel() {
  const { running, versions, damaged } = useVersion()
  const highest = versions[0]?.number ?? 0
  return (
    <section className="version-panel" aria-labelledby="version-title">
      <h2 id="version-title">Show version</h2>
      {running ? <Runs running={running} versions={versions} /> : <Rehearsal next={highest + 1} />}
      {versions.length > (running ? 1 : 0) && <Earlier versions={versions} running={running} />}
      {damaged.map(({ where, message, remedy }) => (
        <p key={where} className="refused" role="alert">
          <Sign name="cross" /> {message} ({where}). {remedy}
        </p>
      ))}
      <StepDialog />
    </section>
  )
}

function Rehearsal({ next }: { next: number }) {
  return (
    <>
      <p className="runs">
        <b>Rehearsal</b> every edit sounds at once
      </p>
      <p>Publish before doors: then what is edited waits, and reaches the stage only when you take it in.</p>
      <div className="ways">
        <button
          type="button"
          className="btn go"
          onClick={() => void lookAt({ do: 'publish', take: 'all', what: `Publish version ${next}?` })}
        >
          Publish version {next}
        </button>
      </div>
    </>
  )
}

function Runs({ running, versions }: { running: RunningVersion; versions: readonly VersionEntry[] }) {
  const pending = usePending()
  const back = backFrom(running, versions)
  return (
    <>
      <p className="runs">
        <b>Version {running.number}</b> plays, published {timeOf(running)}, <Hash version={running} />
      </p>
      {pending.length === 0 ? (
        <p>The draft is the same. What you edit from now on waits here.</p>
      ) : (
        <>
          <h3>Not in it</h3>
          <ChangeList
            changes={pending}
            action={change => (
              <button
                type="button"
                className="btn outline"
                aria-label={`Take in ${change.title}`}
                onClick={() => void lookAt(takingIn(change))}
              >
                Take in
              </button>
            )}
          />
        </>
      )}
      <div className="ways">
        {pending.length > 0 && (
          <button
            type="button"
            className="btn go"
            onClick={() => void lookAt({ do: 'publish', take: 'all', what: 'Take in all changes?' })}
          >
            Take all in
          </button>
        )}
        {back && (
          <button type="button" className="btn" onClick={() => void lookAt({ do: 'run', version: back })}>
            Back to version {back.number}
          </button>
        )}
        <button type="button" className="btn" onClick={() => void lookAt({ do: 'end' })}>
          End, and rehearse
        </button>
      </div>
    </>
  )
}

const takingIn = ({ of, title }: VersionChange) => ({
  do: 'publish' as const,
  take: ('song' in of ? { songs: [of.song], groups: [] } : { songs: [], groups: [of.group] }) satisfies Take,
  what: `Take in ${title}?`,
})

function Earlier({
  versions,
  running,
}: {
  versions: readonly VersionEntry[]
  running: RunningVersion | null
}) {
  return (
    <details>
      <summary>{running ? 'Other versions' : 'Earlier versions'}</summary>
      <ol>
        {versions
          .filter(({ number }) => number !== running?.number)
          .map(version => (
            <li key={version.number}>
              <p>
                <b>Version {version.number}</b>, {timeOf(version)}, <Hash version={version} />
              </p>
              <p className="was">{saysOf(version)}</p>
              <button
                type="button"
                className="btn outline"
                onClick={() => void lookAt({ do: 'run', version })}
              >
                Play version {version.number}
              </button>
            </li>
          ))}
      </ol>
    </details>
  )
}

const saysOf = ({ changes }: VersionEntry): string =>
  changes.length === 0
    ? 'The first of them.'
    : changes.map(({ title, says }) => `${title}: ${says.join('; ')}`).join('. ')

function Hash({ version }: { version: VersionEntry }) {
  return (
    <span className="hash" title={`SHA-256 ${version.hash}: the same on another computer is the same show`}>
      {shortHash(version)}
    </span>
  )
}
