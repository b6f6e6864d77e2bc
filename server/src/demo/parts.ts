// The band's parts, highest on the stage first.

export type PartId = 'letters' | 'bulbs' | 'rings' | 'tubes' | 'foots'

export const parts: Record<PartId, { name: string }> = {
  letters: { name: 'Letters' },
  bulbs: { name: 'Bulbs' },
  rings: { name: 'Rings' },
  tubes: { name: 'Tubes' },
  foots: { name: 'Foots' },
}
