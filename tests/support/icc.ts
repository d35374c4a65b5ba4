// ICC profiles of a header and a table of tags, made up for tests: what the product reads of them, and no more.

export interface IccSketch {
  readonly version?: readonly [major: number, minor: number]
  readonly deviceClass?: string
  readonly space?: string
  readonly connection?: string
  /** YYYY-MM-DD */
  readonly created?: string
  readonly tags?: readonly string[]
  readonly description?: string
  /** Where the number of tags in the table is another than there are. */
  readonly count?: number
  /** Where the length in the header is another than the file's. */
  readonly size?: number
}

/** Four characters at an offset. */
export const putSignature = (bytes: Uint8Array, at: number, signature: string): void =>
  bytes.set(
    [...signature.padEnd(4)].slice(0, 4).map((c) => c.charCodeAt(0)),
    at,
  )

export const putUint32 = (bytes: Uint8Array, at: number, value: number): void =>
  new DataView(bytes.buffer, bytes.byteOffset).setUint32(at, value)

/** The bytes of a profile as ISO 15076-1 lays them out (the layout from memory): every tag but `desc` holds eight zero bytes behind its type. */
export function iccBytes({
  version = [4, 4],
  deviceClass = 'prtr',
  space = 'CMYK',
  connection = 'Lab',
  created = '2025-10-02',
  tags = ['desc', 'A2B0', 'B2A0'],
  description = 'Made up for a test',
  count = tags.length,
  size,
}: IccSketch = {}): Uint8Array {
  const first = 132 + 12 * tags.length
  const lengths = tags.map((tag) => (tag === 'desc' ? 28 + 2 * description.length : 12))
  const places = lengths.map((_, i) => first + lengths.slice(0, i).reduce((sum, n) => sum + Math.ceil(n / 4) * 4, 0))
  const bytes = new Uint8Array(first + lengths.reduce((sum, n) => sum + Math.ceil(n / 4) * 4, 0))
  const view = new DataView(bytes.buffer)
  view.setUint32(0, size ?? bytes.length)
  bytes.set([version[0], version[1] << 4], 8)
  putSignature(bytes, 12, deviceClass)
  putSignature(bytes, 16, space)
  putSignature(bytes, 20, connection)
  for (const [i, part] of created.split('-').entries()) view.setUint16(24 + 2 * i, Number(part))
  putSignature(bytes, 36, 'acsp')
  view.setUint32(128, count)
  for (const [i, tag] of tags.entries()) {
    const at = 132 + 12 * i
    putSignature(bytes, at, tag)
    view.setUint32(at + 4, places[i]!)
    view.setUint32(at + 8, lengths[i]!)
    if (tag === 'desc') putDescription(bytes, places[i]!, description)
    else putSignature(bytes, places[i]!, 'data')
  }
  return bytes
}

/** A `mluc` of one language. */
function putDescription(bytes: Uint8Array, at: number, text: string): void {
  const view = new DataView(bytes.buffer)
  putSignature(bytes, at, 'mluc')
  view.setUint32(at + 8, 1)
  view.setUint32(at + 12, 12)
  putSignature(bytes, at + 16, 'enGB')
  view.setUint32(at + 20, 2 * text.length)
  view.setUint32(at + 24, 28)
  for (const [i, c] of [...text].entries()) view.setUint16(at + 28 + 2 * i, c.charCodeAt(0))
}

/** An ICC profile as a line of a fixture: `ICC profile of class prtr, space CMYK, with desc, A2B0, B2A0`; what is left out is as in `iccBytes`. */
const SKETCH =
  /^ICC profile(?: of class (?<deviceClass>\w+))?(?:,? (?:of )?space (?<space>\w+))?(?:,? with (?<tags>\w+(?:, \w+)*))?(?:,? cut after (?<cut>\d+) bytes)?\s*$/

/** The bytes of the files that hold such a line, by their names. */
export function sketchedIcc(files: ReadonlyMap<string, string>): Map<string, Uint8Array> {
  const out = new Map<string, Uint8Array>()
  for (const [file, text] of files) {
    const { groups } = SKETCH.exec(text) ?? {}
    if (!groups) continue
    const { deviceClass, space, tags, cut } = groups
    const bytes = iccBytes({
      ...(deviceClass !== undefined && { deviceClass }),
      ...(space !== undefined && { space }),
      ...(tags !== undefined && { tags: tags.split(', ') }),
    })
    out.set(file, cut === undefined ? bytes : bytes.subarray(0, Number(cut)))
  }
  return out
}
