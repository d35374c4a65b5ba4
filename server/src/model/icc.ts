// Reads the header and the table of tags of an ICC profile (ISO 15076-1). What the tags hold is not read, but for the description.

/** One entry of the table of tags. */
export interface IccTag {
  readonly signature: string
  readonly offset: number
  readonly size: number
}

export interface IccProfile {
  /** Length in bytes, as the profile says. */
  readonly size: number
  /** "4.4.0". */
  readonly version: string
  /** Signatures of four characters: 'prtr', 'CMYK', 'Lab '. */
  readonly deviceClass: string
  readonly space: string
  readonly connection: string
  /** YYYY-MM-DD; undefined where none is given. */
  readonly created: string | undefined
  readonly tags: ReadonlyMap<string, IccTag>
  /** What the profile calls itself, cut where it is very long. */
  readonly description: string | undefined
  /** What is wrong with it, the worst first: words that follow a colon. */
  readonly problems: readonly string[]
}

const HEADER = 128
const TABLE = HEADER + 4
const ENTRY = 12
/** Profiles have some tens of tags. */
const MAX_TAGS = 1000
const MAX_LETTERS = 200

/** Whether the bytes carry the mark that every ICC profile has at its 37th byte. */
export const isIcc = (bytes: Uint8Array): boolean => bytes.length >= 40 && signatureAt(bytes, 36) === 'acsp'

/** Reads bytes of which `isIcc` holds. Whatever they are, it ends, and throws nothing. */
export function readIcc(bytes: Uint8Array): IccProfile {
  const problems: string[] = []
  const size = uint32(bytes, 0)
  if (bytes.length < TABLE) problems.push(`it ends after ${bytes.length} bytes, and the header alone is ${HEADER} bytes long`)
  else if (size > bytes.length)
    problems.push(`it ends after ${bytes.length} bytes and says that it is ${size} bytes long, so it was not copied whole`)
  else if (size < TABLE) problems.push(`it says that it is ${size} bytes long, which is less than a header`)
  else if (size < bytes.length) problems.push(`${bytes.length - size} bytes stand behind its end, which is after ${size} bytes`)
  const [major = 0, minor = 0] = bytes.subarray(8, 10)
  const version = `${major}.${minor >> 4}.${minor & 15}`
  if (!VERSIONS.has(major)) problems.push(`its version ${version} is none of 2, 4 and 5`)
  const deviceClass = signatureAt(bytes, 12)
  if (!CLASSES.has(deviceClass)) problems.push(`its class ${quoted(deviceClass)} is none of the standard`)
  const space = signatureAt(bytes, 16)
  if (!isSpace(space)) problems.push(`its colour space ${quoted(space)} is none of the standard`)
  const connection = signatureAt(bytes, 20)
  const created = dateAt(bytes, 24, problems)
  const end = Math.min(size, bytes.length)
  const tags = readTags(bytes, end, problems)
  if (deviceClass === 'prtr' && major !== 5 && tags.size > 0) demandOfOutput(space, connection, tags, problems)
  const at = tags.get('desc')
  const description =
    at && at.offset + at.size <= bytes.length ? textOf(bytes.subarray(at.offset, at.offset + at.size)) : undefined
  return { size, version, deviceClass, space, connection, created, tags, description, problems }
}

function readTags(bytes: Uint8Array, end: number, problems: string[]): ReadonlyMap<string, IccTag> {
  const tags = new Map<string, IccTag>()
  if (bytes.length < TABLE) return tags
  const count = uint32(bytes, HEADER)
  const room = Math.max(0, Math.floor((bytes.length - TABLE) / ENTRY))
  if (count === 0) problems.push('its table of tags is empty')
  if (count > room) {
    // What stands there is no table.
    problems.push(`its table of tags has ${count} entries, and there is room for ${room} at most`)
    return tags
  }
  if (count > MAX_TAGS) problems.push(`its table of tags has ${count} entries, and ${MAX_TAGS} at most are read`)
  const read = Math.min(count, MAX_TAGS)
  const first = TABLE + ENTRY * read
  const outside: string[] = []
  const twice: string[] = []
  for (let at = TABLE; at < first; at += ENTRY) {
    const tag = { signature: signatureAt(bytes, at), offset: uint32(bytes, at + 4), size: uint32(bytes, at + 8) }
    if (tags.has(tag.signature)) twice.push(tag.signature)
    else tags.set(tag.signature, tag)
    if (tag.offset < first || tag.offset + tag.size > end) outside.push(tag.signature)
  }
  if (outside.length > 0) problems.push(`${named('the tag', outside)} ${outside.length > 1 ? 'lie' : 'lies'} outside of it`)
  if (twice.length > 0) problems.push(`${named('the tag', twice)} ${twice.length > 1 ? 'stand' : 'stands'} in its table twice`)
  return tags
}

/** What ISO 15076-1 requires of an output profile before version 5. */
function demandOfOutput(space: string, connection: string, tags: ReadonlyMap<string, IccTag>, problems: string[]): void {
  if (connection !== 'Lab ' && connection !== 'XYZ ')
    problems.push(`its connection space is ${quoted(connection)}, and only Lab and XYZ are allowed`)
  const wanted = space === 'GRAY' ? ['desc', 'kTRC'] : ['desc', 'A2B0', 'B2A0']
  const missing = wanted.filter((signature) => !tags.has(signature))
  if (missing.length > 0)
    problems.push(`${named('the tag', missing)}, which every output profile has, ${missing.length > 1 ? 'are' : 'is'} missing`)
}

const VERSIONS: ReadonlySet<number> = new Set([2, 4, 5])

/** Profile classes (ISO 15076-1, 7.2.5; the last four ICC.2), in words that follow "a" or "an". */
const CLASSES: ReadonlyMap<string, string> = new Map([
  ['prtr', 'output profile'],
  ['mntr', 'display profile'],
  ['scnr', 'input profile'],
  ['link', 'device link profile'],
  ['spac', 'colour space profile'],
  ['abst', 'abstract profile'],
  ['nmcl', 'named colour profile'],
  ['cenc', 'colour encoding profile'],
  ['mid ', 'multiplex identification profile'],
  ['mlnk', 'multiplex link profile'],
  ['mvis', 'multiplex visualization profile'],
])

/** "an output profile"; a profile of an unknown class is "a profile of class 'xxxx'". */
export function classWords(deviceClass: string): string {
  const words = CLASSES.get(deviceClass)
  if (words === undefined) return `a profile of class ${quoted(deviceClass)}`
  return `${/^[aeio]/.test(words) ? 'an' : 'a'} ${words}`
}

const OTHER_SPACES: ReadonlySet<string> = new Set(['XYZ ', 'Lab ', 'Luv ', 'YCbr', 'Yxy ', 'HSV ', 'HLS '])

const INKS: Readonly<Record<string, number>> = { GRAY: 1, 'RGB ': 3, 'CMY ': 3, CMYK: 4 }

/** How many channels a device's colour space has (ISO 15076-1, 7.2.6); undefined for a space that no device prints in. */
export const channelsOf = (space: string): number | undefined =>
  INKS[space] ?? (/^[2-9A-F]CLR$/.test(space) ? Number.parseInt(space[0]!, 16) : undefined)

const isSpace = (space: string): boolean => channelsOf(space) !== undefined || OTHER_SPACES.has(space) || space.startsWith('nc')

/** 'Lab ' is read as Lab. What is no letter of a signature is shown as a question mark. */
export const signatureText = (signature: string): string => signature.replace(/[^ -~]/g, '?').trim()

const quoted = (signature: string): string => `'${signatureText(signature)}'`

function named(noun: string, signatures: readonly string[]): string {
  const shown = signatures.slice(0, 5).map(quoted)
  const more = signatures.length > shown.length ? ` and ${signatures.length - shown.length} more` : ''
  return `${noun}${signatures.length > 1 ? 's' : ''} ${shown.join(', ')}${more}`
}

/** Bytes behind the end count as 0. */
const uint16 = (bytes: Uint8Array, at: number): number => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)

const uint32 = (bytes: Uint8Array, at: number): number => uint16(bytes, at) * 65_536 + uint16(bytes, at + 2)

function signatureAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(bytes[at] ?? 0, bytes[at + 1] ?? 0, bytes[at + 2] ?? 0, bytes[at + 3] ?? 0)
}

function dateAt(bytes: Uint8Array, at: number, problems: string[]): string | undefined {
  const [year, month, day] = [uint16(bytes, at), uint16(bytes, at + 2), uint16(bytes, at + 4)]
  if (year === 0 && month === 0 && day === 0) return undefined
  const two = (n: number): string => String(n).padStart(2, '0')
  const text = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
  if (month >= 1 && month <= 12 && day >= 1 && day <= 31 && year >= 1990 && year <= 9999) return text
  problems.push(`the day it was made, ${text}, is none of the calendar`)
  return undefined
}

/** The text of a description: of version 2 (`desc`), of version 4 and later (`mluc`, the first language), or plain (`text`). */
function textOf(tag: Uint8Array): string | undefined {
  const type = signatureAt(tag, 0)
  if (type === 'mluc') {
    const length = Math.min(uint32(tag, 20), 2 * MAX_LETTERS)
    const offset = uint32(tag, 24)
    if (uint32(tag, 8) === 0) return undefined
    let text = ''
    for (let at = offset; at + 1 < Math.min(offset + length, tag.length); at += 2) text += String.fromCharCode(uint16(tag, at))
    return cleaned(text)
  }
  if (type !== 'desc' && type !== 'text') return undefined
  const start = type === 'desc' ? 12 : 8
  const length = type === 'desc' ? uint32(tag, 8) : tag.length
  return cleaned(String.fromCharCode(...tag.subarray(start, start + Math.min(length, MAX_LETTERS))))
}

function cleaned(text: string): string | undefined {
  const end = text.indexOf('\0')
  const shown = (end < 0 ? text : text.slice(0, end)).replace(/[\p{C}\s]+/gu, ' ').trim()
  return shown === '' ? undefined : shown
}
