// Opens a GDTF file: a ZIP archive whose description.xml says what the fixture is (DIN SPEC 15800).

import { XMLParser, XMLValidator } from 'fast-xml-parser'
import { strFromU8, unzipSync } from 'fflate'
import { CodedError } from '../errors.ts'

const MIB = 1024 * 1024
/** Bytes of the largest archive, and of the largest description in one, that are read. */
export const MOST_GDTF_BYTES = 64 * MIB
const MOST_DESCRIPTION = 16 * MIB

/** An XML element: its attributes by name, its children in order. */
export interface Element {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly children: readonly Element[]
}

/**
 * The root element of a GDTF file's description; of the archive nothing else is unpacked.
 * @throws CodedError `gdtf.notGdtf`, `gdtf.tooLarge`, `gdtf.damaged`
 */
export function openGdtf(bytes: Uint8Array, where: string): Element {
  if (bytes.length > MOST_GDTF_BYTES) {
    const says = `the file has ${Math.ceil(bytes.length / MIB)} MiB; at most ${MOST_GDTF_BYTES / MIB} are read`
    throw new CodedError('gdtf.tooLarge', says, where)
  }
  const text = strFromU8(description(bytes, where))
  const fault = XMLValidator.validate(text)
  if (fault !== true) {
    const { line, col, msg } = fault.err
    throw new CodedError('gdtf.damaged', msg, `${where}: description.xml, line ${line}, column ${col}`)
  }
  const root = nodesOf(text, where)
    .map(elementOf)
    .find(element => element?.name === 'GDTF')
  if (!root) throw new CodedError('gdtf.notGdtf', 'its description has no element "GDTF"', where)
  return root
}

function description(bytes: Uint8Array, where: string): Uint8Array {
  let size = 0
  let files: Record<string, Uint8Array>
  try {
    files = unzipSync(bytes, {
      filter: file => {
        if (file.name !== 'description.xml') return false
        size = file.originalSize
        return size <= MOST_DESCRIPTION
      },
    })
  } catch (error) {
    if (bytes[0] !== 0x50 || bytes[1] !== 0x4b) {
      throw new CodedError('gdtf.notGdtf', 'the file is no ZIP archive', where)
    }
    throw new CodedError('gdtf.damaged', (error as Error).message, where)
  }
  if (size > MOST_DESCRIPTION) {
    const says = `its description would have ${Math.ceil(size / MIB)} MiB; at most ${MOST_DESCRIPTION / MIB} are read`
    throw new CodedError('gdtf.tooLarge', says, `${where}: description.xml`)
  }
  const found = files['description.xml']
  if (!found) throw new CodedError('gdtf.notGdtf', 'the archive has no description.xml', where)
  return found
}

type Node = Record<string, unknown>
const ATTRIBUTES = ':@'

// Entities of the document's own are not followed: they can make a small file huge.
const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseAttributeValue: false,
  parseTagValue: false,
  processEntities: false,
})

/** @throws CodedError `gdtf.damaged` for what the validator let through and the parser does not take */
function nodesOf(text: string, where: string): Node[] {
  try {
    return parser.parse(text) as Node[]
  } catch (error) {
    throw new CodedError('gdtf.damaged', (error as Error).message, `${where}: description.xml`)
  }
}

/** The five entities of XML itself. */
const entities: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&apos;': "'",
}
const plain = (text: string): string => text.replace(/&(amp|lt|gt|quot|apos);/g, entity => entities[entity]!)

function elementOf(node: Node): Element | null {
  const name = Object.keys(node).find(key => key !== ATTRIBUTES)
  if (name === undefined || name.startsWith('#') || name.startsWith('?')) return null
  const attributes = Object.fromEntries(
    Object.entries((node[ATTRIBUTES] ?? {}) as Node).map(([key, value]) => [key, plain(String(value))]),
  )
  const children = (node[name] as Node[]).flatMap(child => elementOf(child) ?? [])
  return { name, attributes, children }
}

/** The children with this name. */
export const childrenOf = (element: Element | undefined, name: string): Element[] =>
  element?.children.filter(child => child.name === name) ?? []

/** The first child with this name. */
export const childOf = (element: Element | undefined, name: string): Element | undefined =>
  element?.children.find(child => child.name === name)
