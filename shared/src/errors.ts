// The one list of coded errors: each says what to do; the place and the detail come with the throw.

/**
 * Every error code the product can answer with, and its remedy in one sentence.
 * `docs/errors.md` is checked against this list by a test.
 */
export const remedies = {
  'file.missing': 'Check the path, or name the show "demo" to use the one that comes with Glowchart.',
  'file.empty':
    'Nothing is in the file: copy it again from where it came from, or restore an earlier version.',
  'file.damaged':
    'Nothing needs to be done: look whether the version that was opened lacks your last changes.',
  'file.behind':
    'Make room on the disk, or check that the folder may be written to: the file then follows by itself. Until then your changes are safe in the journal beside it.',
  'file.journal':
    'Look whether your last changes are in the show, and make again those that are not; the journal that held them is kept where it says.',
  'file.replaced':
    'Decide which of the two you want: to go on from the one that is kept, stop the server and put it back in the place of the other.',
  'file.unreadable': 'Check that the file may be read, and that it is a file and not a folder.',
  'file.unwritable': 'Choose another place for the file, or make room there.',
  'file.notJson': 'Restore an earlier version of the file, or mend the text at the place named.',
  'file.tooLarge': 'A show file is never this large; check that this is the right file.',
  'document.format': 'Open a file that Glowchart wrote: its first field "format" names the kind of document.',
  'document.notObject': 'Open a file that Glowchart wrote: it holds one JSON object.',
  'document.version':
    'The version must be a whole number from 1 upwards; restore an earlier version of the file.',
  'document.newer': 'Update Glowchart on this machine; the file was written by a newer one.',
  'document.schema': 'Mend the field at the place named, or restore an earlier version of the file.',
  'document.unknown': 'Check the spelling of the field at the place named, or take it out.',
  'document.reference': 'Add what is missing, or point the field at something that exists.',
  'document.build': 'Add the build to the rig, or choose one that the rig has.',
  'document.look': 'Add the look (or this part to it), or free the cue from it.',
  'document.part': 'Add the part to the show, or choose one that it has.',
  'document.rig': 'Choose the rig that this show was made for; its id stands in the field "rig" of the show.',
  'document.swatch': 'Add the swatch to the show, or choose one that it has.',
  'document.track': 'Add the cue track to the song, or move the cue to one that the song has.',
  'document.order': 'The order must list every item exactly once.',
  'document.duplicate': 'Take the second one out, or give it a name of its own.',
  'document.sequence': 'Put the items in order of their place, each at a place of its own.',
  'document.link': 'Link the section to one that is not itself a copy.',
  'document.linkedCue': 'Free the cue track from the link, or put the cue into the section that is repeated.',
  'document.pickUp':
    'Let the cue start at most one bar before its section, or move it to the section before.',
  'edit.unknown': 'Reload the page: it may be older than the server.',
  'edit.schema': 'Mend the value at the place named; nothing was changed.',
  'edit.missing': 'It was deleted meanwhile; nothing was changed.',
  'edit.conflict': 'Somebody has changed the same thing since; undo their change first or make yours again.',
  'edit.exists': 'Reload the page and try again; nothing was changed.',
  'edit.forgotten':
    'It was made before the server was started or is too long ago: restore an earlier version of the file.',
  'edit.invalid': 'Nothing was changed; choose a value or a place that fits.',
  'edit.last': 'Add another one first; nothing was changed.',
  'edit.linked':
    'Change the section that is repeated, free the cue track, or unlink the section; nothing was changed.',
  'edit.look': 'Free the cue from its look first, or change the look; nothing was changed.',
  'edit.noParts': 'Add a part on the stage first; nothing was changed.',
  'edit.notSaved':
    'Make room on the disk or check its permissions, then make the change again; nothing was changed.',
  'edit.notYours': 'Only who made a change can take it back; nothing was changed.',
  'edit.outside': 'Keep cues inside the song and bars inside their section; nothing was changed.',
  'edit.used': 'Take it out of the places named first; nothing was changed.',
  'access.join': 'Enter the PIN that the laptop shows.',
  'access.pin': 'Look at the PIN on the laptop, and type it again.',
  'access.wait': 'Wait as long as it says, or let the laptop make a new PIN.',
  'access.role': 'Ask at the laptop to be given the controls; nothing was changed.',
  'access.address': 'Choose one of the addresses that the laptop lists; nothing was changed.',
  'access.guest': 'They have left, or were sent off meanwhile; nothing was changed.',
  'access.full': 'Close another page, or send somebody off at the laptop.',
  'data.locked': 'Stop the other server, or start this one on another data folder.',
  'data.unwritable': 'Make room on the disk, or check that the data folder may be written to.',
  'version.mix': 'Take in what it needs as well, or all changes at once; what runs was not changed.',
  'version.stops':
    'Mend it in the chart, or publish in spite of it with the second button; what runs was not changed.',
  'version.changed': 'Look at the changes again and publish what you then see; what runs was not changed.',
  'version.same': 'Change something first; what runs was not changed.',
  'version.stands': 'Stop, and make another song ready first; what runs was not changed.',
  'version.notIn': 'Take it in under Set list, or end the show version to rehearse it.',
  'version.unknown': 'Choose one of the versions in the list; what runs was not changed.',
  'version.runs': 'Stop the song or end the show version first; nothing was opened.',
  'import.exists':
    'Nothing was changed. Import it again with "replace" to put it in place; the earlier version is kept.',
  'message.schema': 'Reload the page: it may be older than the server.',
  'request.host': 'Open the page at the address that the server printed when it started.',
  'request.origin': 'Open the page from this server itself: other sites may not use it.',
  'request.page': 'Build the page with "npm run build", then start again.',
  'request.tooLarge': 'Send less at once.',
  'request.port': 'Close the other program on that port, or choose another with --port.',
  'request.unknown': 'Check the address.',
  'request.failed': 'Try again; if it happens again, report it with what the server printed.',
  'show.unknown': 'Choose one of the shows in the list.',
  'night.unknown': 'Choose one of the nights in the list.',
  'song.unknown': 'Use one of the titles that "glowchart songs" lists.',
  'engine.down': 'Wait a second: it is started again by itself, and goes on where it would be.',
  'understudy.off': 'Switch it on first: Outputs, "A second laptop".',
  'understudy.follows': 'Press at the laptop that leads, or take over first.',
  'understudy.unready': 'Wait until the other laptop is in step, or take over there.',
  'understudy.code': 'Read the code from the first laptop again; a new one is shown there on a press.',
  'understudy.unreachable':
    'Check that both laptops are on the same network, and that the first one lets an understudy follow.',
  'understudy.port': 'Choose another network of this laptop, or close what has the port.',
  'engine.noSong': 'Choose a song first.',
  'transport.follows': 'Start and stop it at the MIDI clock, or choose the internal clock.',
  'check.playing': 'Stop the song first; a line check never darkens a show that plays.',
  'transport.place': 'Choose a place inside the song.',
  'song.bar': 'Choose a bar inside the song.',
  'kit.unknown': 'Use one of the kits that "glowchart songs --json" lists.',
  'midi.line': 'Write one JSON object a line: {"ms": time from the start, "bytes": [0…255, …]}.',
  'midi.notKept':
    'It holds until the server ends. See that its data folder can be written, and choose again.',
  'midi.empty': 'Give a file with at least one line {"ms": …, "bytes": […]}.',
  'output.portAddress': 'Send it as sACN, or give the universe a number up to 32768.',
  'output.duplicate': 'Give one of the two another destination number, or take it out.',
  'osc.tooLarge': 'Send smaller packets: one message, or a few in a bundle.',
  'osc.damaged': 'Check that the sender speaks Open Sound Control 1.0 over UDP to this port.',
  'osc.type': 'Send whole numbers, fractions, texts or truths (types i, f, s, b, T, F, N, I, h, d).',
  'house.holds': 'Ask the house to lift it; it can be released here only once the house is no longer heard.',
  'house.off': 'Nothing was held; nothing was changed.',
  'structure.empty': 'Type the sections with their bars, with commas between: Intro 8, Verse 16, Chorus 8.',
  'structure.name': 'Give the section a short name before its number of bars: Verse 16.',
  'structure.bars':
    'Write the number of bars after the name, such as Verse 16; only a name that comes again may leave it out.',
  'structure.tooMany': 'Type fewer sections; longer stretches of a song can be one section.',
  'export.tooLarge': 'Attach the recordings as mp3, flac or ogg, which are smaller, and export again.',
  'audio.format': 'Choose a recording as wav, mp3, flac or ogg.',
  'audio.empty': 'Nothing is in the file: copy it again from where it came from.',
  'audio.tooLarge': 'Choose a shorter recording, or one as mp3, flac or ogg.',
  'audio.broken': 'Nothing was kept; send the file again.',
  'audio.damaged':
    'Nothing was changed. Copy the file again from where it came from, or save it afresh as wav.',
  'audio.unknown': 'Attach the recording again: its file is not in the data folder of this machine.',
  'audio.range': 'Ask for bytes that the file has.',
  'audio.noBeats': 'Nothing was changed. Tap along with it, or say where a later bar begins.',
  'gdtf.notGdtf': 'Choose a GDTF file (.gdtf) as the maker of the fixture gives it.',
  'gdtf.tooLarge': 'Choose a smaller file: a description of a fixture is never this large.',
  'gdtf.damaged': 'Get the file again from where it came from.',
  'gdtf.noModes': 'Choose another file of this fixture, or make the build by hand.',
  'gdtf.tooMany': 'Choose another mode, or make the build by hand.',
  'gdtf.breaks': 'Choose a mode with one start address, or make one build for each of them by hand.',
  'gdtf.slots': 'Choose another mode, or make the build by hand from the fixture’s manual.',
  'gdtf.noLight': 'Choose another mode, or make the build by hand: name what each slot does.',
  'walk.noLight': 'Walk on, leave slots raised that may open the light, and go back to the first ones.',
  'smf.notMidi': 'Choose a Standard MIDI File (.mid).',
  'smf.tooLarge': 'Choose a smaller file: a Standard MIDI File of a song is never this large.',
  'smf.tooMany': 'Write the file again with fewer tracks or events, or choose fewer notes to make cues of.',
  'smf.tooLong': 'Cut the file into songs; each is imported by itself.',
  'smf.format': 'Write the file again as format 0 or 1.',
  'smf.division': 'Write the file again with ticks a quarter note (such as 480 or 960).',
  'smf.tempo': 'Write the file again without that tempo.',
  'smf.meter':
    'Write the file again with at most 64 beats a bar, and beats from whole notes to thirty-seconds.',
  'smf.damaged': 'Copy the file again from where it came from, or write it again.',
  'smf.track': 'Choose one of the tracks that the file has.',
} as const

export type ErrorCode = keyof typeof remedies

/** What was wrong, where, and what to do: safe to show to a user and to send over a socket. */
export interface Problem {
  readonly code: ErrorCode
  readonly message: string
  /** A place a user can find: a path in the document, a file, a song and bar. */
  readonly where: string
  readonly remedy: string
}

export const problem = (code: ErrorCode, message: string, where: string): Problem => ({
  code,
  message,
  where,
  remedy: remedies[code],
})

/** An error with a code. Whoever throws it has changed nothing. */
export class CodedError extends Error {
  readonly code: ErrorCode
  readonly where: string

  constructor(code: ErrorCode, message: string, where: string) {
    super(message)
    this.name = 'CodedError'
    this.code = code
    this.where = where
  }

  get problem(): Problem {
    return problem(this.code, this.message, this.where)
  }
}
