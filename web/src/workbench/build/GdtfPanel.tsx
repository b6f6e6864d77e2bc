// A build from a GDTF file: the file is chosen or dropped, then one of its modes; its slots are seen before it is kept.

import { CodedError, type Problem } from '@glowchart/shared/errors.ts'
import type { GdtfBuild } from '@glowchart/shared/gdtf/build.ts'
import type { GdtfFixture } from '@glowchart/shared/gdtf/modes.ts'
import { freeName, newBuild } from '@glowchart/shared/rig/build-new.ts'
import { type Rig, type Shape, shapes } from '@glowchart/shared/rig/schema.ts'
import { useState } from 'react'
import { editTogether } from '../../document/editing.ts'
import { newId } from '../../document/new-id.ts'
import { FileWell } from '../../intake/FileWell.tsx'
import { putOnBench } from '../chosen.ts'
import { Pick } from '../Pick.tsx'
import { slotNumbers } from './ChannelTable.tsx'
import { channelWords, shapeWords } from './words.ts'

interface Read {
  readonly file: string
  readonly fixture: GdtfFixture
  readonly mode: number
  /** What the mode becomes, or why it cannot. */
  readonly becomes: GdtfBuild | Problem
}

const isProblem = (becomes: GdtfBuild | Problem): becomes is Problem => 'code' in becomes

export function GdtfPanel({ rig }: { rig: Rig }) {
  const [read, setRead] = useState<Read | null>(null)
  const [fault, setFault] = useState<Problem | null>(null)
  const [shape, setShape] = useState<Shape>('panel')

  const choose = async (file: string, fixture: GdtfFixture, mode: number) => {
    const { gdtfBuild } = await import('./read-gdtf.ts')
    const becomes = attempted(() => gdtfBuild(fixture.modes[mode]!, file))
    setRead({ file, fixture, mode, becomes })
  }
  const open = async (file: File) => {
    setRead(null)
    setFault(null)
    try {
      const { readGdtf } = await import('./read-gdtf.ts')
      await choose(file.name, await readGdtf(file), 0)
    } catch (error) {
      if (!(error instanceof CodedError)) throw error
      setFault(error.problem)
    }
  }
  const keep = () => {
    if (!read || isProblem(read.becomes)) return
    const { fixture, becomes } = read
    const mode = fixture.modes[read.mode]!
    const name = freeName(`${fixture.name || 'Rented fixture'}, ${mode.name}`.slice(0, 76), rig.builds)
    const start = newBuild(shape, rig.builds)
    const build = newId('build')
    const value = {
      ...start,
      name,
      channels: [...becomes.channels],
      cells: becomes.cells,
      // It has its own supply: nothing of it hangs on a box.
      draw: { from: 'measured' as const, amps: { red: 0, green: 0, blue: 0, white: 0 } },
      note: `${fixture.maker} ${fixture.name}, mode "${mode.name}", from ${read.file}.`.slice(0, 2000),
    }
    void editTogether(`Build ${name} from ${read.file}`.slice(0, 120), [['setBuild', { build, value }]])
    putOnBench({ kind: 'build', id: build })
  }
  return (
    <article className="bench-panel" aria-labelledby="gdtf-title">
      <header>
        <h2 id="gdtf-title">A build from a GDTF file</h2>
      </header>
      <p className="says">
        Makers of fixtures describe their modes and channels in this format (DIN SPEC 15800). Colours and one
        dimmer are played; pan, tilt and all the rest stay parked where the maker has them.
      </p>
      <FileWell says="Choose a .gdtf file" accept=".gdtf,application/zip" onFile={open} />
      <Fault problem={fault} />
      {read && (
        <>
          <h3>
            {read.fixture.maker} {read.fixture.name}
          </h3>
          <div className="row">
            <Pick
              label="Mode"
              value={`${read.mode}`}
              options={read.fixture.modes.map((mode, i) => [`${i}`, `${mode.name}, ${mode.slots} slots`])}
              onChange={mode => choose(read.file, read.fixture, Number(mode))}
            />
            <Pick
              label="Drawn as"
              value={shape}
              options={shapes.map(one => [one, shapeWords[one]])}
              onChange={setShape}
            />
          </div>
          {isProblem(read.becomes) ? (
            <Fault problem={read.becomes} />
          ) : (
            <>
              <Preview becomes={read.becomes} />
              <button type="button" className="btn go" onClick={keep}>
                Add this build
              </button>
            </>
          )}
        </>
      )}
    </article>
  )
}

function attempted(make: () => GdtfBuild): GdtfBuild | Problem {
  try {
    return make()
  } catch (error) {
    if (error instanceof CodedError) return error.problem
    throw error
  }
}

function Fault({ problem }: { problem: Problem | null }) {
  return (
    <p className="fault" role="alert">
      {problem && `${problem.where}: ${problem.message}. ${problem.remedy}`}
    </p>
  )
}

function Preview({ becomes: { channels, cells, parked } }: { becomes: GdtfBuild }) {
  const numbers = slotNumbers(channels)
  return (
    <>
      <p className="says">
        {cells === 1 ? 'One cell' : `${cells} cells`}
        {parked.length > 0 && `; parked: ${parked.join(', ')}`}.
      </p>
      <table className="preview">
        <thead>
          <tr>
            <th scope="col">Slot</th>
            <th scope="col">Does</th>
            <th scope="col">Of it</th>
          </tr>
        </thead>
        <tbody>
          {channels.map((channel, i) => (
            <tr key={numbers[i]}>
              <th scope="row" className="score">
                {numbers[i]}
              </th>
              <td>{channelWords[channel.does]}</td>
              <td>
                {channel.does === 'fixed'
                  ? `${channel.label ?? ''} at ${Math.round(channel.value * 100)} %`
                  : 'cell' in channel
                    ? `cell ${channel.cell + 1}`
                    : 'the whole fixture'}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  )
}
