// The one list of coded errors: each says what to do; the place and the detail come with the throw.

/**
 * Every error code the product can answer with, and its remedy in one sentence.
 * `docs/errors.md` is checked against this list by a test.
 */
export const remedies = {
  'file.missing': 'Check the path, or name the show "demo" to use the one that comes with Glowchart.',
  'file.unreadable': 'Check that the file may be read, and that it is a file and not a folder.',
  'file.notJson': 'Restore an earlier version of the file, or mend the text at the place named.',
  'file.tooLarge': 'A show file is never this large; check that this is the right file.',
  'document.format': 'Open a file that Glowchart wrote: its first field "format" names the kind of document.',
  'document.version': 'The version must be a whole number from 1 upwards; restore an earlier version of the file.',
  'document.newer': 'Update Glowchart on this machine; the file was written by a newer one.',
  'document.schema': 'Mend the field at the place named, or restore an earlier version of the file.',
  'document.reference': 'Add what is missing, or point the field at something that exists.',
  'document.order': 'The order must list every item exactly once.',
  'document.link': 'Link the section to one that is not itself a copy.',
  'edit.unknown': 'Reload the page: it may be older than the server.',
  'edit.schema': 'Mend the value at the place named; nothing was changed.',
  'edit.missing': 'It was deleted meanwhile; nothing was changed.',
  'edit.conflict': 'Somebody has changed the same thing since; undo their change first or make yours again.',
  'song.unknown': 'Use one of the titles that "glowchart songs" lists.',
  'engine.down': 'Wait a second: it is started again by itself, and goes on where it would be.',
  'engine.noSong': 'Choose a song first.',
  'transport.place': 'Choose a place inside the song.',
  'kit.unknown': 'Use one of the kits that "glowchart songs --json" lists.',
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
