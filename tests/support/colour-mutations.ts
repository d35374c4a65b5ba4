// ICC profiles and measurement files with bytes and words changed, lost, doubled and put in: each is told of, or gives a value.
import fc from 'fast-check'
import { expect } from 'vitest'
import { quantities } from '../../server/src/areas/colour/quantities.ts'
import { reckonArea } from '../../server/src/areas/reckon.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from './fixture.ts'
import { iccBytes } from './icc.ts'

const PROFILE = `profile: e
printer: p
colour:
  ink-limit: 260 %
  icc: film.icc
  reference: target.txt
  measured: [{ file: strip.txt, date: 2026-03-20 }]
`
const OTHERS: readonly (readonly [string, string])[] = [
  ['e.media.yaml', PROFILE],
  ['p.printer.yaml', 'printer: p\nheads: {channels: [cyan, magenta, yellow, black]}\n'],
  ['rollbook.yaml', 'shop: Tern Quay Print Works\ntolerance: {colour: {mean: 1.5, percentile: 3, max: 5}}\n'],
]

const MEASUREMENT = `CGATS.17
ORIGINATOR "Tern Quay Print Works"
CREATED "2026-11-17" # the next morning
SAMPLE_BACKING "white"
NUMBER_OF_FIELDS 11
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME CMYK_C CMYK_M CMYK_Y CMYK_K LAB_L LAB_A LAB_B SPECTRAL_NM400 SPECTRAL_NM410
END_DATA_FORMAT
NUMBER_OF_SETS 5
BEGIN_DATA
1 "paper" 0 0 0 0 94.6 0.4 -2.6 0.7 0.8
2 "cyan" 100 0 0 0 55.2 -36.8 -49.6 0.3 0.4
3 "magenta" 0 100 0 0 48.3 74.1 -3.2 0.2 0.2
4 "yellow" 0 0 100 0 88.7 -4.9 92.8 0.1 0.1
5 "black" 0 0 0 100 16.4 0.3 0.2 0.02 0.02
END_DATA
`

const fraction = fc.double({ min: 0, max: 1, noNaN: true, maxExcluded: true })

/** One change, at a fraction of the length that it meets. */
const byteChange = fc.record({
  at: fraction,
  how: fc.constantFrom('byte', 'word', 'cut', 'lose', 'double', 'insert'),
  value: fc.oneof(fc.nat(255), fc.constantFrom(0, 0xff, 0x7f, 0x80)),
  length: fc.nat(40),
})

const WORDS: readonly string[] = [
  ...['END_DATA', 'BEGIN_DATA', 'BEGIN_DATA_FORMAT', 'END_DATA_FORMAT', 'NUMBER_OF_SETS 9', 'NUMBER_OF_FIELDS', 'KEYWORD'],
  ...[
    '"',
    '""',
    '#',
    ',',
    '\t',
    '\r',
    '\n',
    '\r\n',
    '\0',
    '\ufeff',
    '\u2028',
    '94,6',
    '\u001b[2J',
    '9\u0007',
    'NaN',
    '1e999',
    '-',
    '--5',
    '0x1F',
    '9'.repeat(60),
  ],
  ...['LAB_L', 'SAMPLE_ID', 'XYZ_X', '__proto__', 'constructor', '\ud800', '🖨️', '5000', '-1e300', '<xml>'],
]

const textChange = fc.record({
  at: fraction,
  how: fc.constantFrom('word', 'lose', 'double', 'cut', 'line'),
  word: fc.constantFrom(...WORDS),
  length: fc.nat(60),
})

function changedBytes(
  bytes: Uint8Array,
  changes: readonly (typeof byteChange extends fc.Arbitrary<infer C> ? C : never)[],
): Uint8Array {
  let out = [...bytes]
  for (const { at, how, value, length } of changes) {
    const i = Math.floor(at * out.length)
    if (how === 'byte') out[i] = value
    else if (how === 'word') out.splice(i - (i % 4), 4, value, value, value, value)
    else if (how === 'cut') out = out.slice(0, i)
    else if (how === 'lose') out.splice(i, length)
    else if (how === 'double') out.splice(i, 0, ...out.slice(i, i + length))
    else out.splice(i, 0, ...new Array<number>(length).fill(value))
  }
  return Uint8Array.from(out)
}

function changedText(text: string, changes: readonly (typeof textChange extends fc.Arbitrary<infer C> ? C : never)[]): string {
  let out = text
  for (const { at, how, word, length } of changes) {
    const i = Math.floor(at * out.length)
    if (how === 'word') out = out.slice(0, i) + word + out.slice(i)
    else if (how === 'lose') out = out.slice(0, i) + out.slice(i + length)
    else if (how === 'double') out = out.slice(0, i + length) + out.slice(i)
    else if (how === 'cut') out = out.slice(0, i)
    else out = out.replaceAll('\n', i % 2 === 0 ? '\r\n' : '\r')
  }
  return out
}

export interface MutationTally {
  readonly files: number
  /** Of those, the ones that a finding tells of. */
  readonly told: number
}

/** So many changed ICC profiles, each read, judged, shown and reckoned with. */
export async function mutateIcc(files: number): Promise<MutationTally> {
  const whole = iccBytes()
  return tally(files, fc.array(byteChange, { minLength: 1, maxLength: 6 }), async (changes) => {
    const bytes = changedBytes(whole, changes)
    return judged({ icc: bytes, measured: MEASUREMENT }, 'film.icc', (hover) =>
      /^\*\*An? .* profile\*\* for |^\*\*A profile of class/m.test(hover),
    )
  })
}

/** So many changed measurement files. */
export async function mutateCgats(files: number): Promise<MutationTally> {
  return tally(files, fc.array(textChange, { minLength: 1, maxLength: 6 }), async (changes) => {
    const measured = changedText(MEASUREMENT, changes)
    return judged({ icc: iccBytes(), measured }, 'strip.txt', (hover) => hover.includes('**ΔE00** against'))
  })
}

async function tally<T>(
  numRuns: number,
  changes: fc.Arbitrary<T>,
  work: (changes: T) => Promise<boolean>,
): Promise<MutationTally> {
  let files = 0
  let told = 0
  await fc.assert(
    fc.asyncProperty(changes, async (some) => {
      files++
      if (await work(some)) told++
    }),
    { numRuns },
  )
  return { files, told }
}

/** Whether a finding tells of the file. Where none does, its hover has to give a value. */
async function judged(
  { icc, measured }: { icc: Uint8Array; measured: string },
  name: string,
  hasValue: (hover: string) => boolean,
): Promise<boolean> {
  const files = new Map(OTHERS.map(([file, text]) => [ROOT + file, text]))
  files.set(`${ROOT}target.txt`, MEASUREMENT)
  files.set(`${ROOT}strip.txt`, measured)
  const workspace = new Workspace(new MemoryHost(files, '2026-11-25', new Map([[`${ROOT}film.icc`, icc]])))
  await workspace.addFolder(ROOT)
  const file = `${ROOT}e.media.yaml`
  workspace.update(file, PROFILE)
  await workspace.prepare(file)
  const analysis = new Analysis(workspace, true)
  const at = PROFILE.indexOf(name)
  const findings = analysis.findings(file).filter(({ span }) => span.start <= at && at < span.end)
  const hover = analysis.hover(file, at)?.markdown ?? ''
  const rows = reckonArea(quantities, analysis.context(file)!.setup!)
  const told = [...findings.map(({ message }) => message), hover, ...rows.map(({ problem }) => problem?.reason ?? '')]
  for (const text of told) expect(text).not.toMatch(/\bNaN\b(?!')|undefined|Infinity|\[object/)
  // A file's own words must not move a terminal's cursor.
  for (const { message } of findings) expect([...message].filter((c) => c < ' ' || c === '\u007f')).toEqual([])
  for (const { message } of findings) expect(message.length).toBeLessThan(600)
  for (const { value } of rows) if (value !== undefined) expect(Number.isFinite(value)).toBe(true)
  if (findings.length === 0) expect(hasValue(hover), hover).toBe(true)
  return findings.length > 0
}
