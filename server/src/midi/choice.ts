// Which MIDI ports the clock comes from and goes to, kept with the installation, beside the documents.

import { mkdir, readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type MidiChoice, midiChoiceSchema } from '@glowchart/shared/messages.ts'

const NONE: MidiChoice = { clockFrom: null, clockTo: null }

const fileIn = (dataFolder: string): string => join(dataFolder, 'midi.json')

/** What was kept; nothing chosen where there is nothing to read. */
export async function keptMidiChoice(dataFolder: string): Promise<MidiChoice> {
  const text = await readFile(fileIn(dataFolder), 'utf8').catch(() => '')
  try {
    return midiChoiceSchema.parse(JSON.parse(text))
  } catch {
    // Less than a choice that must be made anew: the show does not wait for it.
    return NONE
  }
}

/** Whole or not at all. Rejects where the folder cannot be written. */
export async function keepMidiChoice(dataFolder: string, choice: MidiChoice): Promise<void> {
  const file = fileIn(dataFolder)
  await mkdir(dataFolder, { recursive: true })
  await writeFile(`${file}.new`, `${JSON.stringify(choice)}\n`)
  await rename(`${file}.new`, file)
}
