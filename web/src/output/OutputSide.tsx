// The output beside the chart, while it is chosen; it is closed there too.

import type { Rig } from '@glowchart/shared/rig/schema.ts'
import type { Show } from '@glowchart/shared/show/schema.ts'
import { useSession } from '../document/session.ts'
import { OutputPanel } from './OutputPanel.tsx'

export function OutputSide({ rig, show }: { rig: Rig; show: Show }) {
  return (
    <div className="output-side">
      <header>
        <h2>Output</h2>
        <button
          type="button"
          className="btn quiet"
          onClick={() => useSession.setState({ choosesOutput: false })}
        >
          Done
        </button>
      </header>
      <OutputPanel rig={rig} show={show} />
    </div>
  )
}
