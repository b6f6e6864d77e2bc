// Which part's lights play a part that has none in a kit.

import type { Show } from '@glowchart/shared/show/schema.ts'

interface Props {
  show: Show
  kit: string
  part: string
  onChoose: (standIn: string | null) => unknown
}

export function StandInChoice({ show, kit, part, onChoose }: Props) {
  return (
    <select
      aria-label={`Stand-in for ${show.parts[part]!.name}`}
      value={show.kits[kit]!.parts[part]?.standIn ?? ''}
      onChange={event => onChoose(event.target.value || null)}
    >
      <option value="">No stand-in</option>
      {show.partOrder
        .filter(other => other !== part)
        .map(other => (
          <option key={other} value={other}>
            {show.parts[other]!.name} stands in
          </option>
        ))}
    </select>
  )
}
