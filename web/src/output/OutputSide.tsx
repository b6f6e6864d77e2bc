// The output beside the chart, while it is chosen; it is closed there too.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { onEscape } from '../ui/escape.ts'
import { OutputPanel } from './OutputPanel.tsx'
import { closeOutput } from './open.ts'

export function OutputSide({ rig, show }: { rig: Rig; show: Show }) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it listens for what its fields let through.
    <div className="output-side" onKeyDown={onEscape(closeOutput)}>
      <header>
        <h2>Output</h2>
        <button type="button" className="btn quiet" onClick={closeOutput}>
          Done
        </button>
      </header>
      <OutputPanel rig={rig} show={show} />
    </div>
  )
}
