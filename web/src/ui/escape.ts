// Escape in a panel, where nothing inside has used it: a field's own Escape comes first.

import type { KeyboardEvent } from 'react'

export const onEscape = (close: () => unknown) => (event: KeyboardEvent) => {
  if (event.key !== 'Escape' || event.defaultPrevented) return
  event.preventDefault()
  event.stopPropagation()
  close()
}
