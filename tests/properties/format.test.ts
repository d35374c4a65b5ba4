// Whatever is put in order says the very same before and after, keeps its comments and blank lines, and is in order then.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyEdits, type TextEdit } from '../../server/src/base/text-edit.ts'
import { format } from '../../server/src/features/format.ts'
import { LiveDocument, type RollDocument } from '../../server/src/model/document.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { PlainReader } from '../../server/src/syntax/plain.ts'
import { runs } from '../support/counts.ts'
import { edited, longProfile, longStock, randomEdit, type Sample, samples } from '../support/texts.ts'

const open = ({ name, text }: Sample): RollDocument => new LiveDocument(name, kindOfFile(name)!, text)

const long: readonly Sample[] = [
  { name: 'long.media.yaml', text: longProfile(40) },
  { name: 'long.stock.yaml', text: longStock(40) },
]
const all = [...samples(), ...long]

/** All that may be lost: what is said, by an own reading of it, and every sign that is no blank, comments included, line by line. */
const contents = (document: RollDocument) => ({
  says: new PlainReader().read(document.tree.root),
  lines: document.text
    .trimEnd()
    .split(/\r\n|\r|\n/)
    .map((line) => line.replace(/[ \t]+/g, '')),
})

function put(sample: Sample, edits: readonly TextEdit[]): Sample {
  return { ...sample, text: applyEdits(sample.text, edits) }
}

/** Puts a text in order and checks what must hold; undefined where it is left as it is. */
function checked(sample: Sample): string | undefined {
  const document = open(sample)
  const edits = format(document)
  if (document.tree.problems.length > 0) expect(edits).toBeUndefined()
  if (!edits) return undefined
  for (const { start, end, newText } of edits) expect(`${sample.text.slice(start, end)}${newText}`).toMatch(/^[ \t\r\n]+$/)
  const after = put(sample, edits)
  expect(contents(open(after))).toEqual(contents(document))
  expect(format(open(after))).toEqual([])
  return after.text
}

/** A text as a hand would leave it that cares for nothing: wider, with blanks at the ends. Texts in lines of their own are left alone. */
const loosened = (text: string, { step, gap, tail, end }: Loosening): string =>
  text
    .split('\n')
    .map((line) => {
      const [, indent = '', rest = ''] = /^( *)(.*)$/.exec(line)!
      const wider = rest.startsWith('#') ? rest : rest.replace(/^((?:- )?["\w-]+:) (?=\S)/, `$1${gap}`)
      return `${' '.repeat((indent.length / 2) * step)}${wider}${line === '' ? '' : tail}`
    })
    .join('\n') + end

interface Loosening {
  readonly step: number
  readonly gap: string
  readonly tail: string
  readonly end: string
}

const loosening: fc.Arbitrary<Loosening> = fc.record({
  step: fc.constantFrom(2, 3, 4, 8),
  gap: fc.constantFrom(' ', '   ', '\t', ' \t '),
  tail: fc.constantFrom('', ' ', '\t', '  '),
  end: fc.constantFrom('', '\n', '   \n\n'),
})

describe('samples', () => {
  test('of the shop are in order', () => {
    const changed = samples().filter((s) => s.name.startsWith('tern-quay/') && format(open(s))?.length !== 0)
    expect(changed.map(({ name }) => name)).toEqual([])
  })

  test('of mistakes are put in order or left', () => {
    expect(all.map(checked).filter((text) => text !== undefined).length).toBeGreaterThan(200)
  })

  test('written loosely are put in the very same order', () => {
    const plain = all.filter(({ name, text }) => !/[|>,]$/m.test(text) && !name.startsWith('broken/'))
    expect(plain.length).toBeGreaterThan(20)
    fc.assert(
      fc.property(fc.constantFrom(...plain), loosening, (sample, how) => {
        expect(checked({ ...sample, text: loosened(sample.text, how) })).toBe(sample.text)
      }),
      { numRuns: runs(300) },
    )
  })
})

test('damaged texts', () => {
  let put = 0
  fc.assert(
    fc.property(fc.constantFrom(...all), fc.array(randomEdit, { minLength: 1, maxLength: 3 }), (sample, edits) => {
      if (checked({ ...sample, text: edits.reduce(edited, sample.text) }) !== undefined) put++
    }),
    { numRuns: runs(1500) },
  )
  expect(put).toBeGreaterThan(runs(1500) / 15)
})

test('some lines of a loose text: what is said stays', () => {
  const fraction = fc.double({ min: 0, max: 1, noNaN: true })
  fc.assert(
    fc.property(fc.constantFrom(...all), loosening, fraction, fraction, (sample, how, a, b) => {
      const loose = { ...sample, text: loosened(sample.text, how) }
      const [start, end] = [a, b].map((f) => Math.floor(f * loose.text.length)).sort((x, y) => x - y) as [number, number]
      const document = open(loose)
      const edits = format(document, { start, end })
      if (!edits) return
      const after = put(loose, edits)
      expect(contents(open(after))).toEqual(contents(document))
    }),
    { numRuns: runs(500) },
  )
})
