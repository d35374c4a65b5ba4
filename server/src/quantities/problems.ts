// Says what is wrong with a text that should be a quantity, in the shop's words, and what would be right. Runs only after a failed read.
import type { Span } from '../base/span.ts'
import { decimalOf, rewriteNumber } from './decimal.ts'
import { formatSi } from './format.ts'
import { nearUnits } from './near.ts'
import { numberProblem } from './number-problems.ts'
import { type QuantityFix, type QuantityProblem, quote, write } from './problem.ts'
import { ABSOLUTE_ZERO, isSpread, readQuantity } from './read.ts'
import { isDigit, LONGEST, type Shape, scanQuantity } from './scan.ts'
import {
  canonicalUnit,
  type Dimension,
  dimensionInUnits,
  dimensionName,
  findUnit,
  likelyUnits,
  type Unit,
  unitsOf,
} from './units.ts'

/** The problem with a text that could not be read as a quantity of the dimension. Messages and fixes are one line, whatever the text holds. */
export function diagnose(text: string, dimension: Dimension, shape: Shape = scanQuantity(text)): QuantityProblem {
  const problem = examine(text, dimension, shape)
  const fixes = problem.fixes.map((fix) => ({ ...fix, title: oneLine(fix.title), replacement: oneLine(fix.replacement) }))
  return { ...problem, message: oneLine(problem.message), fixes }
}

const oneLine = (s: string): string => s.replace(/[\s\p{Cc}]+/gu, ' ')

function examine(text: string, dimension: Dimension, shape: Shape): QuantityProblem {
  const whole: Span = { start: shape.start, end: shape.end }
  const { number } = shape
  if (number?.fault === 'too-large') return numberProblem(text, dimension, shape, number)
  if (number === undefined || shape.end - shape.start > LONGEST) return notAQuantity(text, dimension, shape)
  if (number.fault !== undefined) return numberProblem(text, dimension, shape, number)
  const spelling = text.slice(shape.unitStart, shape.end)
  const unit = findUnit(spelling, dimension)
  if (shape.plusMinus >= 0 || /±|\+\/[-−]/.test(spelling)) {
    const problem = uncertaintyProblem(text, dimension, shape)
    if (problem !== undefined) return problem
  }
  if (spelling === '') return missingUnit(text, dimension, shape)
  const other = unit ?? findUnit(spelling)
  if (other === undefined) return unknownUnit(text, dimension, shape, spelling)
  if (other.dimension !== dimension) return wrongDimension(text, dimension, shape, other)
  if (dimension === 'resolution') return resolutionProblem(text, whole)
  if (shape.times >= 0) return twoValues(text, dimension, whole)
  if (number.fraction || shape.uncertainty?.fraction) return fractionOfOther(text, shape, other)
  const limit = rewriteNumber(String(ABSOLUTE_ZERO), findUnit('°C', 'temperature')!, other).text
  const message = `${quote(text, whole)} is below absolute zero; nothing is colder than ${limit} ${other.id}`
  return { code: 'impossible-temperature', span: whole, message, fixes: [] }
}

function notAQuantity(text: string, dimension: Dimension, shape: Shape): QuantityProblem {
  const span: Span = { start: shape.start, end: shape.end }
  const message = (what: string): string => `${what}; ${dimensionInUnits(dimension)} is due`
  if (span.start === span.end) {
    return { code: 'not-a-quantity', span, message: message('there is no value'), fixes: [] }
  }
  if (span.end - span.start > LONGEST) {
    return { code: 'not-a-quantity', span, message: message(`${quote(text, span)} is text, not a number with a unit`), fixes: [] }
  }
  const own = text.slice(span.start, span.end)
  if (findUnit(own, dimension) !== undefined) {
    return { code: 'missing-number', span, message: `'${own}' has no number yet; write it before the unit`, fixes: [] }
  }
  return {
    code: 'not-a-quantity',
    span,
    message: message(`${quote(text, span)} is not a number with a unit`),
    fixes: within(own, dimension),
  }
}

/** The quantity inside other words or brackets ('~500 mm', '(499.4 ±0.3) mm'), offered but never sure. */
function within(own: string, dimension: Dimension): readonly QuantityFix[] {
  let first = 0
  while (first < own.length && !isDigit(own.charCodeAt(first))) first++
  const rest = own.slice(first).replaceAll(')', '').trim()
  return asRead(rest, dimension)
}

function missingUnit(text: string, dimension: Dimension, shape: Shape): QuantityProblem {
  const span: Span = { start: shape.start, end: shape.end }
  const own = text.slice(shape.start, shape.end)
  const units = likelyUnits(dimension)
  const offers = units.map((id) => ({ title: `Add ${id}`, replacement: `${own} ${id}`, preferred: units.length === 1 }))
  const fixes = offers.filter(({ replacement }) => readQuantity(replacement, scanQuantity(replacement), dimension) !== undefined)
  const message = `${quote(text, span)} has no unit; ${dimensionInUnits(dimension)} is due`
  return { code: 'missing-unit', span, message, fixes }
}

function unknownUnit(text: string, dimension: Dimension, shape: Shape, spelling: string): QuantityProblem {
  const span: Span = { start: shape.unitStart, end: shape.end }
  if (/^([-−–…]|to\b)\s*[-−+]?\d/.test(spelling)) {
    const whole: Span = { start: shape.start, end: shape.end }
    return {
      code: 'two-values',
      span: whole,
      message: `${quote(text, whole)} looks like a range; ${dimensionInUnits(dimension)} is due`,
      fixes: [],
    }
  }
  const numbers = text.slice(shape.start, shape.unitStart).trimEnd()
  if (firstWordIsUnit(spelling, dimension)) {
    const kept = `${numbers} ${spelling.split(/\s/)[0]}`
    const message = `${quote(text, span)} is more than a unit; only '${kept}' can stand here`
    return { code: 'unknown-unit', span, message, fixes: [write(kept, false)] }
  }
  const near = nearUnits(spelling, dimension)
  const fixes = near.map(({ unit, sure }) => write(`${numbers} ${unit.id}`, sure))
  const first = fixes[0]
  const message =
    first === undefined
      ? `${quote(text, span)} is not a unit; ${dimensionName(dimension)} is given in ${listed(unitsOf(dimension).map((u) => u.id))}`
      : `${quote(text, span)} is not a unit; did you mean ${listed(fixes.map((f) => `'${f.replacement}'`))}?`
  return { code: 'unknown-unit', span, message, fixes }
}

const firstWordIsUnit = (spelling: string, dimension: Dimension): boolean =>
  /\s/.test(spelling) && findUnit(spelling.split(/\s/)[0]!, dimension) !== undefined

function wrongDimension(text: string, dimension: Dimension, shape: Shape, found: Unit): QuantityProblem {
  const whole: Span = { start: shape.start, end: shape.end }
  const units = listed(unitsOf(dimension).map((u) => u.id))
  const message = `${quote(text, whole)} is ${dimensionName(found.dimension)}; ${dimensionName(dimension)} is due, in ${units}`
  const fixes = conversion(text, dimension, shape, found)
  return { code: 'wrong-dimension', span: whole, message, fixes, found: found.dimension }
}

/** Only where the two dimensions truly measure the same: a difference read off a thermometer, a pressure and a stress, a bare % of humidity. */
function conversion(text: string, dimension: Dimension, shape: Shape, found: Unit): readonly QuantityFix[] {
  const number = shape.number!
  if (shape.times >= 0 || number.fraction || shape.uncertainty?.fraction) return []
  const to = canonicalUnit(dimension)
  const difference = dimension === 'temperature-difference' && found.dimension === 'temperature'
  const stress = [dimension, found.dimension].every((d) => d === 'pressure' || d === 'modulus')
  const humidity = dimension === 'humidity' && found.id === '%'
  if (!difference && !stress && !humidity) return []
  const from = humidity ? to : found
  const spread =
    shape.uncertainty === undefined ? '' : ` ±${rewriteNumber(slice(text, shape.uncertainty), from, to, 'spread').text}`
  const value = rewriteNumber(slice(text, number), from, to, difference ? 'spread' : 'value').text
  return [{ title: `Convert to ${to.id}`, replacement: `${value}${spread} ${to.id}`, preferred: true }]
}

function uncertaintyProblem(text: string, dimension: Dimension, shape: Shape): QuantityProblem | undefined {
  const code = 'bad-uncertainty'
  const value = slice(text, shape.number!)
  const spelling = text.slice(shape.unitStart, shape.end)
  if (shape.plusMinus < 0) return unitBeforeUncertainty(text, dimension, shape, spelling)
  const span: Span = { start: shape.plusMinus, end: shape.uncertainty?.end ?? shape.end }
  if (dimension === 'resolution') return undefined
  const u = shape.uncertainty
  if (u?.fault !== undefined) {
    return numberProblem(text, dimension, shape, u)
  }
  if (isSpread(u)) return undefined
  const without = spelling === '' ? value : `${value} ${spelling}`
  if (u === undefined) {
    const fixes = asRead(without, dimension)
    const out = fixes.length > 0 ? `, or leave the ± out, '${without}'` : ''
    return { code, span, message: `the number after ± is missing; write the uncertainty there${out}`, fixes }
  }
  return noUncertainty(text, span, asRead(without, dimension))
}

const noUncertainty = (text: string, span: Span, fixes: readonly QuantityFix[]): QuantityProblem => {
  const message = `${quote(text, span)} is no uncertainty; it is a number above zero, or is left out when nothing is known of it`
  return { code: 'bad-uncertainty', span, message, fixes }
}

/** The fix that writes a text, where it can stand. */
const asRead = (text: string, dimension: Dimension): readonly QuantityFix[] =>
  readQuantity(text, scanQuantity(text), dimension) === undefined ? [] : [write(text, false)]

/** '499.4 mm ±0.3 mm': one unit is written, behind both numbers. */
function unitBeforeUncertainty(text: string, dimension: Dimension, shape: Shape, spelling: string): QuantityProblem | undefined {
  const at = spelling.search(/±|\+\/[-−]/)
  const unit = findUnit(spelling.slice(0, at).trim(), dimension)
  const tail = spelling.slice(at).replace(/^(±|\+\/[-−])\s*/, '')
  const inside = scanQuantity(tail)
  if (unit === undefined || inside.number === undefined || inside.number.fault !== undefined) return undefined
  const tailUnit = tail.slice(inside.unitStart, inside.end)
  const own = findUnit(tailUnit, dimension) ?? (tailUnit === '' ? unit : undefined)
  const span: Span = { start: shape.unitStart, end: shape.end }
  const value = slice(text, shape.number!)
  if (!isSpread(inside.number))
    return noUncertainty(text, { start: shape.unitStart + at, end: shape.end }, asRead(`${value} ${unit.id}`, dimension))
  const share = unit.offset === undefined ? findUnit(tailUnit, 'relative') : undefined
  const spread =
    own !== undefined && !inside.number.fraction
      ? `${rewriteNumber(slice(tail, inside.number), own, unit, 'spread').text} ${unit.id}`
      : share &&
        formatSi(Math.abs(shape.number!.value * unit.factor * inside.number.value * share.factor), dimension, { unit, digits: 2 })
  if (spread === undefined) {
    const message = `the unit is written once, behind the uncertainty and in the same unit, as in '${value} ±… ${unit.id}'`
    return { code: 'bad-uncertainty', span, message, fixes: [] }
  }
  const right = `${value} ±${spread}`
  // What is wrong with the number itself is told first.
  if (asRead(right, dimension).length === 0)
    return { ...examine(right, dimension, scanQuantity(right)), span: wholeOf(shape), fixes: [] }
  const message = `the unit is written once, behind the uncertainty: '${right}'`
  return { code: 'bad-uncertainty', span, message, fixes: [write(right, true)] }
}

function resolutionProblem(text: string, span: Span): QuantityProblem {
  const message = `${quote(text, span)} is not a resolution; write dots per inch across and along the feed, '600 x 1200 dpi', both above zero`
  return { code: 'bad-resolution', span, message, fixes: [] }
}

function twoValues(text: string, dimension: Dimension, span: Span): QuantityProblem {
  return {
    code: 'two-values',
    span,
    message: `${quote(text, span)} holds two numbers; ${dimensionInUnits(dimension)} is due`,
    fixes: [],
  }
}

function fractionOfOther(text: string, shape: Shape, unit: Unit): QuantityProblem {
  const { number, uncertainty } = shape
  const at = number!.fraction ? number! : uncertainty!
  const right = [decimalOf(slice(text, number!)), uncertainty && `±${decimalOf(slice(text, uncertainty))}`, unit.id]
  const replacement = right.filter((part) => part !== undefined).join(' ')
  const message = `fractions are for inches only; write '${replacement}'`
  return { code: 'bad-fraction', span: { start: at.start, end: at.end }, message, fixes: [write(replacement, true)] }
}

const wholeOf = ({ start, end }: Shape): Span => ({ start, end })

const slice = (text: string, span: Span): string => text.slice(span.start, span.end)

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`
