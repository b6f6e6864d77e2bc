// How often frames leave, and whether receivers put them out together.

import type { Output } from '@glowchart/shared/show/output.ts'
import { NumberBox } from './NumberBox.tsx'

interface Props {
  output: Output
  sendsSacn: boolean
  onChange: (output: Output) => unknown
}

export function Pace({ output, sendsSacn, onChange }: Props) {
  return (
    <div className="fields">
      <NumberBox
        label="Frames a second"
        value={output.rate}
        min={1}
        max={44}
        onChange={rate => onChange({ ...output, rate })}
      />
      {sendsSacn && output.sync !== false && (
        <NumberBox
          label="sACN sync universe"
          value={output.sync}
          min={1}
          max={63999}
          onChange={sync => onChange({ ...output, sync })}
        />
      )}
      <label className="tick">
        <input
          type="checkbox"
          checked={output.sync !== false}
          onChange={e => onChange({ ...output, sync: e.target.checked ? 63999 : false })}
        />
        All universes change together (sync)
      </label>
    </div>
  )
}
