// Another band on the same boxes, and the way of opening its show and going back, as the page does.

import { bundleText } from '@glowchart/shared/show/bundle.ts'
import type { Documents } from '@glowchart/shared/show/edits/edit.ts'

/** Another band: its own songs, kit and way of standing on the same boxes. */
export function secondBand({ rig, show }: Documents): Documents {
  const { porchlight: _, ...songs } = show.songs
  const { short: _short, ...setLists } = show.setLists
  const { tonightList: _list, ...rest } = show
  return {
    rig,
    show: {
      ...rest,
      id: 'second-band',
      name: 'The Second Half',
      tonight: 'fly',
      songs,
      songOrder: show.songOrder.filter(id => id !== 'porchlight'),
      setLists,
    },
  }
}

/** Opens a show of the data folder (its id), or one that is brought along. Rejects with what the app says against it. */
export async function openShow(url: string, show: string | Documents): Promise<void> {
  const brought = typeof show === 'string' ? undefined : bundleText(show)
  const path = typeof show === 'string' ? `/api/open?show=${show}` : '/api/import'
  const answer = await fetch(`${url}${path}`, {
    method: 'POST',
    ...(brought === undefined ? {} : { body: brought }),
    headers: { origin: url },
  })
  if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`)
}
