// Offsets and positions, against an oracle that walks the text character by character and knows nothing of indices.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LineIndex, type LinePosition, type PositionEncoding } from '../../server/src/base/line-index.ts'

const ENCODINGS: readonly PositionEncoding[] = ['utf-8', 'utf-16', 'utf-32']

const width = (character: string, encoding: PositionEncoding): number =>
  encoding === 'utf-8' ? new TextEncoder().encode(character).length : encoding === 'utf-16' ? character.length : 1

/** The position of every offset that does not lie inside a character, line ends as the protocol has them. */
function oracle(text: string, encoding: PositionEncoding): Map<number, LinePosition> {
  const positions = new Map<number, LinePosition>()
  let [line, character, offset] = [0, 0, 0]
  const characters = [...text]
  characters.forEach((c, i) => {
    positions.set(offset, { line, character })
    offset += c.length
    const endsLine = c === '\n' || (c === '\r' && characters[i + 1] !== '\n')
    if (endsLine) [line, character] = [line + 1, 0]
    else character += width(c, encoding)
  })
  return positions.set(offset, { line, character })
}

const texts = fc
  .array(fc.constantFrom('a', 'µ', '½', '€', '🖨️', '👩‍🔧', '𝒳', '\n', '\r\n', '\r', '\t', '\ufeff', ' ', '\u2028'), {
    maxLength: 30,
  })
  .map((parts) => parts.join(''))

describe.each(ENCODINGS)('%s', (encoding) => {
  test('an offset has the position that counting gives', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const lines = new LineIndex(text, encoding)
        for (const [offset, position] of oracle(text, encoding)) expect(lines.position(offset)).toEqual(position)
      }),
    )
  })

  test('a position leads back to its offset, but for one inside a line break, which leads to the line end', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const lines = new LineIndex(text, encoding)
        for (const [offset, position] of oracle(text, encoding)) {
          const insideBreak = text[offset - 1] === '\r' && text[offset] === '\n'
          expect(lines.offset(position)).toBe(insideBreak ? offset - 1 : offset)
        }
      }),
    )
  })

  test('a position inside a character leads to its beginning, one past the line to its end, one past the text to its end', () => {
    const lines = new LineIndex('a🖨\nb\r\n', encoding)
    expect(lines.offset({ line: 0, character: encoding === 'utf-8' ? 3 : 1 })).toBe(1)
    expect(lines.offset({ line: 0, character: 99 })).toBe(3)
    expect(lines.offset({ line: 1, character: 99 })).toBe(5)
    expect(lines.offset({ line: 9, character: 0 })).toBe(7)
    expect(lines.offset({ line: -1, character: 5 })).toBe(0)
  })
})

test('half of a pair of surrogates is one character of its own', () => {
  const lines = new LineIndex('x\ud83d\ny', 'utf-8')
  expect(lines.position(2)).toEqual({ line: 0, character: 4 })
  expect(lines.offset({ line: 0, character: 4 })).toBe(2)
  expect(lines.position(3)).toEqual({ line: 1, character: 0 })
})

test('lines have a start and an end without their break', () => {
  const text = 'one\r\ntwo\rthree\n'
  const lines = new LineIndex(text)
  const all = Array.from({ length: lines.lineCount }, (_, i) => text.slice(lines.lineStart(i), lines.lineEnd(i)))
  expect(all).toEqual(['one', 'two', 'three', ''])
  expect([lines.lineAt(4), lines.lineAt(5), lines.lineAt(99)]).toEqual([0, 1, 3])
})
