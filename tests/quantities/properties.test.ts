// What must hold for every quantity and every text: what is shown reads back, fixes lead on, and no text crashes or stalls the reader.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareQuantities, equalQuantities } from '../../server/src/quantities/compare.ts'
import { fromSi, toSi } from '../../server/src/quantities/convert.ts'
import { formatQuantity, formatSi, rewriteIn, toStep } from '../../server/src/quantities/format.ts'
import { parseAnyQuantity, parseQuantity, quantityParts } from '../../server/src/quantities/parse.ts'
import type { Quantity } from '../../server/src/quantities/quantity.ts'
import { DIMENSIONS, UNITS, unitsOf } from '../../server/src/quantities/units.ts'
import { runs } from '../support/counts.ts'

const unit = fc.constantFrom(...UNITS)
const dimension = fc.constantFrom(...DIMENSIONS)
/** A decimal as a person writes it: up to six digits with up to four behind the point. */
const decimal = fc
  .tuple(fc.integer({ min: 1, max: 999_999 }), fc.integer({ min: 0, max: 4 }))
  .map(([digits, places]) => (digits / 10 ** places).toFixed(places))

/** Texts near the grammar: its own characters in any order, so that the odd paths are taken often. */
const scraps = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        ' ',
        '.',
        ',',
        '-',
        '−',
        '+',
        '/',
        '±',
        '+/-',
        'x',
        '×',
        'e',
        'E',
        '_',
        '½',
        '°',
        '%',
        '(',
        ')',
        '\u00a0',
        '\n',
        '0',
        '1',
        '12',
        '999',
        '000',
      ),
      fc.constantFrom(...UNITS.map((u) => u.id)),
    ),
    { maxLength: 14 },
  )
  .map((parts) => parts.join(''))

describe('what is shown reads back', () => {
  test('a number in any unit', () => {
    fc.assert(
      fc.property(unit, decimal, fc.boolean(), (u, number, negative) => {
        const signed = negative && u.dimension !== 'resolution' && u.dimension !== 'temperature' ? `-${number}` : number
        const first = parseQuantity(`${signed} ${u.id}`, u.dimension)
        if (!first.ok) throw new Error(first.problem.message)
        const second = parseQuantity(formatQuantity(first.value), u.dimension)
        expect(second.ok && equalQuantities(first.value, second.value)).toBe(true)
      }),
    )
  })

  test('any value in the unit chosen for it, to the digits shown', () => {
    fc.assert(
      fc.property(
        dimension,
        fc.double({ min: 1e-9, max: 1e6, noNaN: true }),
        fc.constantFrom('metric', 'us'),
        (d, si, system) => {
          const parsed = parseQuantity(formatSi(si, d, { system }), d)
          if (!parsed.ok) throw new Error(parsed.problem.message)
          const zero = d === 'temperature' ? 300 : 0
          expect(Math.abs(parsed.value.si - si)).toBeLessThanOrEqual(6e-6 * (Math.abs(si) + zero))
        },
      ),
    )
  })

  test('a value with its uncertainty, which keeps two digits', () => {
    const u = fc.double({ min: 1e-6, max: 1, noNaN: true })
    fc.assert(
      fc.property(fc.double({ min: -100, max: 100, noNaN: true }), u, (si, uncertainty) => {
        const text = formatSi(si, 'length', { uncertainty })
        const parsed = parseQuantity(text, 'length')
        if (!parsed.ok) throw new Error(`${text}: ${parsed.problem.message}`)
        expect(Math.abs(parsed.value.uncertainty! / uncertainty - 1)).toBeLessThan(0.051)
        expect(Math.abs(parsed.value.si - si)).toBeLessThanOrEqual(0.051 * uncertainty)
        expect(text).not.toMatch(/-0(\.0+)? /)
      }),
    )
  })

  test('a resolution', () => {
    const dots = fc.integer({ min: 1, max: 5000 })
    fc.assert(
      fc.property(dots, dots, (across, along) => {
        const parsed = parseQuantity(`${across}x${along} dpi`, 'resolution')
        expect(parsed.ok && formatQuantity(parsed.value)).toBe(across === along ? `${across} dpi` : `${across} x ${along} dpi`)
      }),
    )
  })
})

describe('conversion', () => {
  test('there and back', () => {
    fc.assert(
      fc.property(unit, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (u, number) => {
        const back = fromSi(toSi(number, u), u)
        expect(Math.abs(back - number)).toBeLessThanOrEqual(u.offset === undefined ? 4e-16 * Math.abs(number) + 1e-300 : 1e-8)
      }),
    )
  })

  test('rewriting moves a value by no more than half a step of its last written digit', () => {
    fc.assert(
      fc.property(unit, fc.nat(), decimal, (from, pick, number) => {
        fc.pre(from.dimension !== 'resolution')
        const units = unitsOf(from.dimension)
        const to = units[pick % units.length]!
        const first = parseQuantity(`${number} ${from.id}`, from.dimension)
        if (!first.ok) throw new Error(first.problem.message)
        const second = parseQuantity(rewriteIn(first.value, to), from.dimension)
        if (!second.ok) throw new Error(`${number} ${from.id}: ${second.problem.message}`)
        const places = number.includes('.') ? number.length - number.indexOf('.') - 1 : 0
        const half = (10 ** -places * from.factor) / 2
        expect(Math.abs(second.value.si - first.value.si)).toBeLessThanOrEqual(half * (1 + 1e-6) + 1e-9 * (from.offset ? 1 : 0))
      }),
    )
  })

  test('inches as millimetres are the same length', () => {
    const inches = fc.tuple(fc.nat(100), fc.constantFrom(2, 4, 8, 16, 32, 64), fc.nat(63))
    fc.assert(
      fc.property(inches, ([whole, under, over]) => {
        const text = `${whole} ${over % under}/${under} in`
        const first = parseQuantity(text, 'length')
        if (!first.ok) throw new Error(first.problem.message)
        const second = parseQuantity(rewriteIn(first.value, unitsOf('length')[0]!), 'length')
        expect(second.ok && equalQuantities(first.value, second.value)).toBe(true)
      }),
    )
  })

  test('a step is kept to, and rounding again changes nothing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        fc.constantFrom(0.01, 0.05, 0.1, 0.25, 1, 5),
        fc.constantFrom('nearest', 'down', 'up'),
        (value, step, mode) => {
          const once = toStep(value, step, mode)!
          expect(toStep(once, step, mode)).toBe(once)
          expect(Math.abs(once - value)).toBeLessThanOrEqual(step * (mode === 'nearest' ? 0.5 : 1) * (1 + 1e-9) + 1e-9)
          expect(String(once)).toMatch(/^-?\d+(\.\d{1,2})?$/)
        },
      ),
    )
  })

  test('order is total and agrees with equality', () => {
    const lengths = fc.tuple(decimal, fc.constantFrom(...unitsOf('length'))).map(([number, u]): Quantity => {
      const parsed = parseQuantity(`${number} ${u.id}`, 'length')
      if (!parsed.ok) throw new Error(parsed.problem.message)
      return parsed.value
    })
    fc.assert(
      fc.property(lengths, lengths, (a, b) => {
        expect(compareQuantities(a, b)! + compareQuantities(b, a)!).toBe(0)
        expect(compareQuantities(a, b) === 0).toBe(equalQuantities(a, b))
      }),
    )
  })
})

describe('any text at all', () => {
  const sound = (text: string, d: (typeof DIMENSIONS)[number]): void => {
    const parsed = parseQuantity(text, d)
    parseAnyQuantity(text)
    let last = 0
    for (const part of quantityParts(text)) {
      expect(part.start).toBeGreaterThanOrEqual(last)
      expect(part.end).toBeGreaterThan(part.start)
      last = part.end
    }
    if (parsed.ok) {
      for (const n of [parsed.value.si, parsed.value.uncertainty ?? 0, parsed.value.second ?? 0])
        expect(Number.isFinite(n)).toBe(true)
      return
    }
    const { span, message, fixes } = parsed.problem
    expect(span.start).toBeGreaterThanOrEqual(0)
    expect(span.end).toBeGreaterThanOrEqual(span.start)
    expect(span.end).toBeLessThanOrEqual(text.length)
    expect(message).not.toMatch(/undefined|NaN|Infinity|\n|\.$/)
    expect(message.length).toBeLessThan(700)
    expect(fixes.filter((fix) => fix.preferred).length).toBeLessThanOrEqual(1)
    for (const fix of fixes) {
      expect(fix.replacement).not.toBe(text)
      expect(fix.replacement).not.toMatch(/undefined|NaN|Infinity/)
    }
  }

  test('unicode', () =>
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 60 }), dimension, sound), { numRuns: runs(1000) }))

  test('scraps of the grammar', () => fc.assert(fc.property(scraps, dimension, sound), { numRuns: runs(5000) }))

  test('what is offered for an uncertainty that cannot be read is a quantity that can stand', () => {
    const number = fc.constantFrom('2', '-2', '-300', '0', '0.0', '-1', '−1', '1/8', '1e3', '0,1', '5.', '-', '')
    const unit = fc.constantFrom('mm', '°C', 'K', '%', 'in', 'N/m', '')
    const sign = fc.constantFrom(' ±', ' ± ', ' +/- ', '±')
    fc.assert(
      fc.property(number, unit, sign, number, unit, fc.constantFrom(...DIMENSIONS), (a, au, pm, b, bu, dimension) => {
        const parsed = parseQuantity(`${a} ${au}${pm}${b} ${bu}`, dimension)
        if (parsed.ok || parsed.problem.code !== 'bad-uncertainty') return
        for (const { replacement } of parsed.problem.fixes)
          expect(parseQuantity(replacement, dimension).ok, replacement).toBe(true)
      }),
      { numRuns: runs(5000) },
    )
  })

  test('applying preferred fixes ends, and in a quantity or in a question', () => {
    fc.assert(
      fc.property(scraps, dimension, (text, d) => {
        let at = text
        for (let applied = 0; applied < 6; applied++) {
          const parsed = parseQuantity(at, d)
          const preferred = parsed.ok ? undefined : parsed.problem.fixes.find((fix) => fix.preferred)
          if (preferred === undefined) return
          at = preferred.replacement
        }
        throw new Error(`'${text}' is never done: '${at}'`)
      }),
      { numRuns: runs(5000) },
    )
  })

  test.each([
    ['a million digits', '9'.repeat(1e6)],
    ['a million digits and a unit', `${'9'.repeat(1e6)} mm`],
    ['a million decimals', `0.${'1'.repeat(1e6)} mm`],
    ['a million blanks', ' '.repeat(1e6)],
    ['blanks between', `5${' '.repeat(1e6)}mm`],
    ['commas', `1${',1'.repeat(5e5)} mm`],
    ['points', `1${'.1'.repeat(5e5)} mm`],
    ['digit groups', `1${' 111'.repeat(2.5e5)} mm`],
    ['slashes', '1/'.repeat(5e5)],
    ['signs', '+-'.repeat(5e5)],
    ['plus-minus', `1 ${'±'.repeat(1e6)}`],
    ['a long uncertainty', `1 ±${'1'.repeat(1e6)} mm`],
    ['grouped uncertainty', `1 ±1${' 111'.repeat(2.5e5)} mm`],
    ['a long second number', `1 x ${'1'.repeat(1e6)} dpi`],
    ['a long exponent', `1e${'9'.repeat(1e6)} mm`],
    ['a long fraction', `${'1'.repeat(30)}/${'1'.repeat(1e6)} in`],
    ['a long unit', `5 ${'m'.repeat(1e6)}`],
    ['text', 'print '.repeat(2e5)],
  ])('%s', (_name, text) => {
    for (const d of ['length', 'resolution'] as const) {
      const parsed = parseQuantity(text, d)
      expect(parsed.ok).toBe(false)
      sound(text, d)
      for (const fix of parsed.ok ? [] : parsed.problem.fixes) expect(fix.replacement.length).toBeLessThan(250)
    }
  })
})
