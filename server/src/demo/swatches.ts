// The band's colours by name.

const named = {
  // Warm: porches, kitchens, anything with a filament in it.
  porch: { name: 'Porch', hex: '#ffb257' },
  ember: { name: 'Ember', hex: '#ff6426' },
  cream: { name: 'Cream', hex: '#ffe2ae' },
  brass: { name: 'Brass', hex: '#ffc233' },
  peach: { name: 'Peach skin', hex: '#ff8a5c' },
  // Evening.
  dusk: { name: 'Dusk', hex: '#3d46ff' },
  heather: { name: 'Heather', hex: '#9a63ff' },
  plum: { name: 'Plum', hex: '#6a1fd0' },
  fuchsia: { name: 'Fuchsia', hex: '#ff2fa0' },
  rose: { name: 'Rose hip', hex: '#ff4770' },
  // Water and weather.
  harbour: { name: 'Harbour', hex: '#1238e0' },
  tide: { name: 'Tide', hex: '#0fb4c8' },
  glass: { name: 'Sea glass', hex: '#62e2b6' },
  salt: { name: 'Salt', hex: '#dbe8ff' },
  ice: { name: 'Ice', hex: '#8fc7ff' },
  moon: { name: 'Moon', hex: '#fff0c4' },
} as const

export type SwatchId = keyof typeof named

export const swatches: Record<SwatchId, { name: string; hex: string }> = named
