// What the button of a row does, and what stands on it.

import type { Mend } from '@glowchart/shared/preflight/row.ts'
import { useAdvice } from '../advice/advising.ts'
import { shownDocuments } from '../document/document.ts'
import { edit, editTogether } from '../document/editing.ts'
import { useSession } from '../document/session.ts'
import { discover } from '../live/desk.ts'
import { chooseAgain } from '../output/choosing.ts'
import { places } from '../places.ts'
import { playedNow } from '../version/running.ts'

export function mendName(mend: Mend): string {
  switch (mend.do) {
    case 'go': {
      const { show } = shownDocuments() ?? {}
      const title = mend.song === undefined ? undefined : show?.songs[mend.song]?.title
      if (title !== undefined) return `Open “${title}”`
      return `Open ${places.find(({ id }) => id === mend.place)?.name ?? 'Chart'}`
    }
    case 'send':
      return 'Send there again'
    case 'ask':
      return 'Ask again'
    case 'limitStrobes':
      return `Strobes at most ${mend.flashes} flashes/s`
    case 'arm':
      return mend.limits.length === 1 ? 'Arm the power limit' : `Arm ${mend.limits.length} power limits`
  }
}

export function carryOut(mend: Mend): void {
  const documents = shownDocuments()
  /** Of what was judged, which may be another than the draft's. */
  const kit = playedNow()?.show.tonight
  switch (mend.do) {
    case 'go':
      // One that plays may be gone from the draft.
      if (mend.song !== undefined && documents?.show.songs[mend.song]) {
        // Its advice stands open where there is some.
        const showsAdvice = (useAdvice.getState().songs[mend.song]?.length ?? 0) > 0
        useSession.setState({ song: mend.song, showsAdvice })
      }
      location.hash = mend.place
      return
    case 'send':
      if (documents) void chooseAgain(documents.show.output)
      return
    case 'ask': {
      const routes = useSession.getState().status?.outputs ?? []
      const hosts = routes.flatMap(({ route: { to } }) =>
        to.protocol === 'artnet' ? [{ address: to.host, port: to.port }] : [],
      )
      return discover({ everywhere: false, hosts: hosts.slice(0, 64) })
    }
    case 'limitStrobes':
      if (kit !== undefined) void edit('setVenue', { kit, strobes: mend.flashes })
      return
    case 'arm': {
      if (kit === undefined) return
      const says = mend.limits.length === 1 ? null : `${mend.limits.length} power limits`
      void editTogether(
        says,
        mend.limits.map(({ box, amps }) => ['setPowerLimit', { kit, box, amps }] as const),
      )
    }
  }
}
