// What the bytes of a file that a profile names under `colour` are: an ICC profile, a measurement file as CGATS text, or something else.

import { type CgatsFile, isCgats, MAX_CGATS_BYTES, readCgats } from './cgats.ts'
import { type IccProfile, isIcc, readIcc } from './icc.ts'

export type ColourFile =
  | { readonly format: 'icc'; readonly icc: IccProfile }
  | { readonly format: 'cgats'; readonly cgats: CgatsFile }
  /** `looks` follows "it is" or "it holds": "a PDF file". */
  | { readonly format: 'other'; readonly looks: string }

/** Larger files are not read: no ICC profile or measurement comes near it. */
export const MAX_COLOUR_BYTES = 32 * 1024 * 1024

/** Reads any bytes: it ends, and throws nothing. */
export function readColourFile(bytes: Uint8Array): ColourFile {
  if (isIcc(bytes)) return { format: 'icc', icc: readIcc(bytes) }
  const looks = looksLike(bytes)
  if (looks !== undefined) return { format: 'other', looks }
  const text = new TextDecoder('utf-8').decode(bytes)
  if (isCgats(text)) return { format: 'cgats', cgats: readCgats(text) }
  return { format: 'other', looks: /^\s*</.test(text.slice(0, 1000)) ? 'XML or HTML text' : 'text of another sort' }
}

/** What bytes are that are no text to read; undefined for a text. */
function looksLike(bytes: Uint8Array): string | undefined {
  if (bytes.length === 0) return 'an empty file'
  for (const [mark, looks] of MARKS) if (mark.every((byte, i) => bytes[i] === byte)) return looks
  // A text has no zero byte, and what has one shows it early.
  if (bytes.subarray(0, 4096).includes(0)) return 'binary data of another sort'
  if (bytes.length > MAX_CGATS_BYTES) return `a text of ${Math.round(bytes.length / 2 ** 20)} MB, where 8 MB at most are read`
  return undefined
}

const MARKS: readonly (readonly [mark: readonly number[], looks: string])[] = [
  [[0xff, 0xfe], 'UTF-16 text, where UTF-8 is read'],
  [[0xfe, 0xff], 'UTF-16 text, where UTF-8 is read'],
  [[0x25, 0x50, 0x44, 0x46], 'a PDF file'],
  [[0x89, 0x50, 0x4e, 0x47], 'a PNG picture'],
  [[0xff, 0xd8, 0xff], 'a JPEG picture'],
  [[0x49, 0x49, 0x2a, 0x00], 'a TIFF picture'],
  [[0x4d, 0x4d, 0x00, 0x2a], 'a TIFF picture'],
  [[0x50, 0x4b, 0x03, 0x04], 'a ZIP archive or a spreadsheet'],
]
