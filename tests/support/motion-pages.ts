// The pages of docs/motions.md.
export interface MotionPage { title: string; says: string; settings: string; formula: string; motion: Record<string, unknown> & { kind: string }; colours: unknown }
const two = (a: string, b: string) => ({ along: 'motion', stops: [{ at: 0, colour: { hex: a } }, { at: 1, colour: { hex: b } }] })
const p = (motion: MotionPage['motion'], a: string, b: string): MotionPage => ({ title: motion.kind, says: '', settings: '', formula: '', motion, colours: two(a, b) })
export const motionPages: MotionPage[] = [
  p({ kind: 'sustain' }, '#c04010', '#ffc070'),
  p({ kind: 'swell', rate: { ticks: 7680 }, spread: 0.5, shape: 1 }, '#b01020', '#ffb050'),
  p({ kind: 'chase', rate: { ticks: 3840 }, duty: 0.2 }, '#3020c0', '#60e0ff'),
  p({ kind: 'sway', rate: { ticks: 7680 }, duty: 0.4, shape: 1 }, '#004a60', '#90ffe0'),
  p({ kind: 'answer', rate: { ticks: 1920 }, shape: 0.5 }, '#901050', '#ffa0b0'),
  p({ kind: 'scatter', rate: { ticks: 960 }, duty: 0.4, shape: 1 }, '#704010', '#fff0d0'),
  p({ kind: 'pulse', rate: { ticks: 960 }, spread: 0, duty: 0.9, shape: 0.7 }, '#600010', '#ff5040'),
  p({ kind: 'strobe', rate: { ticks: 480 }, spread: 0, duty: 0.3 }, '#ffffff', '#ffffff'),
  p({ kind: 'filament', rate: { ticks: 1920 }, duty: 0.8 }, '#c02800', '#ffb060'),
  p({ kind: 'cascade', rate: { ticks: 3840 }, duty: 0.45, shape: 0.8 }, '#2010a0', '#d0e8ff'),
  p({ kind: 'ring', rate: { ticks: 3840 }, duty: 0.5, shape: 1 }, '#402080', '#ff90e0'),
  p({ kind: 'drift', rate: { ticks: 3840 }, spread: 1, shape: 1 }, '#083060', '#70f0b0'),
]
