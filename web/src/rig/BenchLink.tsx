// A way to the workbench, with a build or a box on it.

import { type OnTheBench, putOnBench } from '../workbench/chosen.ts'

export function BenchLink({ on, says, name }: { on: OnTheBench; says: string; name: string }) {
  return (
    <button
      type="button"
      className="bench-link"
      aria-label={name}
      onClick={() => {
        putOnBench(on)
        location.hash = 'workbench'
      }}
    >
      {says}
    </button>
  )
}
