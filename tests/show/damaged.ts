// The damaged bundle files of tests/samples/damaged: what each must be refused with, and where.

/** File → [code, the place within the file]. */
export const damaged: Readonly<Record<string, readonly [code: string, place: string]>> = {
  'empty.json': ['file.empty', ''],
  'cut-short.json': ['file.notJson', ': line 335, column 13'],
  'comma-missing.json': ['file.notJson', ': line 371, column 3'],
  'a-list.json': ['document.notObject', ''],
  'other-format.json': ['document.format', ': format'],
  'no-version.json': ['document.version', ' (show): version'],
  'newer.json': ['document.newer', ' (rig): version'],
  'bars-as-text.json': ['document.schema', ' (show): songs.kettle.sections.intro.bars'],
  'misspelt-field.json': ['document.unknown', ' (show): songs.kettle.sections.intro.colour'],
  'unknown-swatch.json': [
    'document.swatch',
    ' (show): songs.kettle.sections.verse.cues.v2.light.colours.colour.swatch',
  ],
  'order-short.json': ['document.order', ' (show): songs.kettle.sectionOrder'],
  'order-twice.json': ['document.duplicate', ' (show): partOrder.3'],
  'copy-of-copy.json': ['document.link', ' (show): songs.kettle.sections.verse4.sameAs.section'],
  'unknown-track.json': ['document.track', ' (show): songs.kettle.sections.intro.cues.i1.track'],
  'unknown-build.json': ['document.build', ' (rig): fixtures.t2.build'],
  'unknown-look.json': ['document.look', ' (show): songs.kettle.sections.intro.cues.i2.light.look'],
  'unknown-part.json': ['document.part', ' (show): kits.small.parts.brass'],
  'early-pick-up.json': ['document.pickUp', ' (show): songs.kettle.sections.verse.cues.v1.at'],
  'wrong-rig.json': ['document.rig', ' (show): rig'],
  'cue-under-link.json': ['document.linkedCue', ' (show): songs.kettle.sections.verse2.cues.w1'],
  'tempo-backwards.json': ['document.sequence', ' (show): songs.kettle.sections.verse.tempo.1'],
  'no-kit-tonight.json': ['document.reference', ' (show): tonight'],
}
