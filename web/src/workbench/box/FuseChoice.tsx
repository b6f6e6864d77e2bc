// The fuse of a socket: blade fuses, with those marked that the two rules ask for, and why there may be none.

import { bladeFuses, fuseChoices } from '@glowchart/shared/power/fuse.ts'
import type { Socket } from '@glowchart/shared/rig/schema.ts'
import { wireText } from '../../rig/words.ts'
import { amps } from '../build/words.ts'
import { Pick } from '../Pick.tsx'

const ruleWords = { maker: 'load within 75 %', code: '125 % of the load' } as const

interface Props {
  socket: Socket
  /** Amps of what stands in it tonight; null: it is empty. */
  load: number | null
  onChange: (fuse: number | undefined) => unknown
}

export function FuseChoice({ socket, load, onChange }: Props) {
  const choices = load ? fuseChoices(load, socket.cable.wire) : []
  const says = (fuse: number) => {
    const rules = choices.filter(choice => choice.fuse === fuse)
    if (rules.length === 2) return `${fuse} A · both rules`
    return rules.length === 1 ? `${fuse} A · ${ruleWords[rules[0]!.rule]}` : `${fuse} A`
  }
  const options: [string, string][] = [
    ['', 'none'],
    ...bladeFuses.map(f => [`${f}`, says(f)] as [string, string]),
  ]
  const own = socket.fuse
  if (own !== undefined && !bladeFuses.some(f => f === own)) options.push([`${own}`, `${own} A`])
  return (
    <div className="fuse-choice">
      <Pick
        bare
        label={`Fuse of socket ${socket.label}`}
        value={own === undefined ? '' : `${own}`}
        options={options}
        onChange={to => onChange(to === '' ? undefined : Number(to))}
      />
      <Verdict socket={socket} load={load} />
    </div>
  )
}

function Verdict({ socket, load }: Omit<Props, 'onChange'>) {
  if (!load) return <small>Empty tonight: no load to choose by.</small>
  const choices = fuseChoices(load, socket.cable.wire)
  const wire = wireText(socket.cable.wire)
  const { limit } = choices[0]!
  if (choices.every(choice => choice.fuse === null)) {
    return (
      <small className="stop">
        No legal fuse: {amps(load)} on {wire}
        {limit === null ? ', which the code’s table does not go down to' : `, which allows ${limit} A`}. Use
        thicker wire, or less strip.
      </small>
    )
  }
  if (socket.fuse !== undefined && socket.fuse < load) {
    return <small className="stop">Smaller than the load of {amps(load)}: it will go.</small>
  }
  if (socket.fuse !== undefined && limit !== null && socket.fuse > limit) {
    return (
      <small className="stop">
        Larger than {wire} allows, {limit} A: the cable burns before the fuse goes.
      </small>
    )
  }
  const asked = choices.map(
    ({ rule, fuse }) => `${fuse === null ? 'none' : `${fuse} A`} (${ruleWords[rule]})`,
  )
  return (
    <small>
      {amps(load)} tonight:{' '}
      {choices[0]!.fuse === choices[1]!.fuse ? `${choices[0]!.fuse} A by both rules` : asked.join(', ')}
    </small>
  )
}
