// The ways of writing a number that a document does not take (commas, exponents, grouped digits, odd fractions), each with the way it does.
import type { Span } from '../base/span.ts'
import { type QuantityFix, type QuantityProblem, type QuantityProblemCode, quote, write } from './problem.ts'
import { isBlank, type NumberToken, type Shape } from './scan.ts'
import { type Dimension, dimensionInUnits } from './units.ts'

const VULGAR: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
}

/** The problem of a faulty number, which is either the value or its uncertainty. */
export function numberProblem(text: string, dimension: Dimension, shape: Shape, token: NumberToken): QuantityProblem {
  const span: Span = { start: token.start, end: token.end }
  const raw = text.slice(token.start, token.end)
  const shown = quote(text, span)
  // The whole value with this number replaced; a text too long to be a value is never copied into a fix.
  const with_ = (number: string): string => `${text.slice(shape.start, token.start)}${number}${text.slice(token.end, shape.end)}`
  const refuse = (code: QuantityProblemCode, message: string, fixes: readonly QuantityFix[] = []): QuantityProblem => ({
    code,
    span,
    message,
    fixes,
  })
  const rewrite = (code: QuantityProblemCode, what: string, number: string): QuantityProblem =>
    refuse(code, `${shown} ${what}, '${with_(number)}'`, [write(with_(number), true)])

  switch (token.fault) {
    case 'comma':
      return comma(raw, shown, dimension, (n) => commasGone(with_(n)), refuse)
    case 'exponent': {
      const plain = writtenOut(raw)
      if (plain === undefined)
        return refuse('number-overflow', `${shown} is beyond any value here; ${dimensionInUnits(dimension)} is due`)
      return rewrite('exponent', 'has an exponent; write the number out', plain)
    }
    case 'ends-in-point':
      return rewrite('bad-number', 'ends in a point; leave it out', raw.slice(0, -1))
    case 'grouped':
      return rewrite('bad-number', 'has its digits in groups; write them together', withoutBlanks(raw).replaceAll('_', ''))
    case 'hyphen-fraction':
      return rewrite('bad-fraction', 'joins inches and fraction by a hyphen; put a space', raw.replace(/(\d)[-−–]/, '$1 '))
    case 'vulgar': {
      const fraction = VULGAR[raw.at(-1)!]
      if (fraction === undefined)
        return refuse('bad-fraction', `${shown} has a fraction in one character; write it like '19 1/2 in'`)
      return rewrite('bad-fraction', 'has a fraction in one character; write it with a slash', joined(raw.slice(0, -1), fraction))
    }
    case 'improper':
      return rewrite('bad-fraction', 'has a fraction of one or more behind whole inches; carry it over', carried(raw))
    case 'zero-denominator':
      return refuse('bad-fraction', `${shown} divides by zero; the number below the slash is above zero, as in '11/16 in'`)
    case 'fraction-of-decimal':
      return refuse(
        'bad-fraction',
        `${shown} mixes a decimal point and a fraction; write one or the other, '1.5 in' or '1 1/2 in'`,
      )
    case 'two-points':
      return raw.includes('..')
        ? refuse('two-values', `${shown} looks like a range; ${dimensionInUnits(dimension)} is due`)
        : refuse('bad-number', `${shown} has two decimal points; ${dimensionInUnits(dimension)} is due`)
    case 'range':
      return refuse('two-values', `${shown} looks like a range; ${dimensionInUnits(dimension)} is due`)
    case 'two-numbers':
      return refuse('two-values', `${shown} holds two numbers; ${dimensionInUnits(dimension)} is due`)
    default:
      return refuse('number-overflow', `${shown} has more digits than any value here; ${dimensionInUnits(dimension)} is due`)
  }
}

type Refuse = (code: QuantityProblemCode, message: string, fixes?: readonly QuantityFix[]) => QuantityProblem

function comma(raw: string, shown: string, dimension: Dimension, whole: (n: string) => string, refuse: Refuse): QuantityProblem {
  const code = 'comma-decimal'
  const one = (what: string, number: string): QuantityProblem =>
    refuse(code, `${shown} ${what}, '${whole(number)}'`, [write(whole(number), true)])
  const number = raw.replace(/[.,]+$/, '')
  if (!number.includes(',')) return one('ends in a comma; leave it out', number)
  if (!/^[-−+]?\d+([.,]\d+)*$/.test(number))
    return refuse(code, `${shown} is not a number; ${dimensionInUnits(dimension)} is due`)
  if (/^[-−+]?\d{1,3}(,\d{3})+\.\d+$/.test(number) || /^[-−+]?\d{1,3}(,\d{3}){2,}$/.test(number)) {
    return one('has a comma between thousands; leave it out', number.replaceAll(',', ''))
  }
  if (/^[-−+]?\d{1,3}(\.\d{3})+,\d+$/.test(number)) {
    return one('has a decimal comma; write a decimal point and no thousands mark', number.replaceAll('.', '').replace(',', '.'))
  }
  if (!/^[-−+]?\d+,\d+$/.test(number))
    return refuse(code, `${shown} has too many commas and points to read; ${dimensionInUnits(dimension)} is due`)
  const point = number.replace(',', '.')
  if (!/^[-−+]?[1-9]\d{0,2},\d{3}$/.test(number)) return one('has a decimal comma; write a decimal point', point)
  const thousand = number.replace(',', '')
  const message = `${shown} can be read as ${point} or as ${thousand}; write '${whole(point)}' or '${whole(thousand)}'`
  return refuse(code, message, [write(whole(point), false), write(whole(thousand), false)])
}

/** A decimal comma in the value comes with one in the uncertainty: both are put right at once. */
const commasGone = (text: string): string => text.replace(/((?:±|\+\/[-−])\s*\d+),(\d+)/, '$1.$2')

/** A number with an exponent as plain digits, or undefined when that is beyond any use. */
function writtenOut(raw: string): string | undefined {
  const [mantissa = '', power = ''] = raw.replaceAll('−', '-').split(/[eE]/)
  const shift = Number(power)
  if (Math.abs(shift) > 20) return undefined
  const [, sign = '', whole = '', decimals = ''] = /^([-+]?)(\d*)\.?(\d*)$/.exec(mantissa) ?? []
  const digits = whole + decimals
  const point = whole.length + shift
  const padded = point <= 0 ? '0'.repeat(1 - point) + digits : digits.padEnd(point, '0')
  const at = Math.max(point, 1)
  const left = padded.slice(0, at).replace(/^0+(?=\d)/, '')
  const right = padded.slice(at).replace(/0+$/, '')
  if (left.length > 15 || left.length + right.length > 38) return undefined
  return `${sign}${left}${right === '' ? '' : `.${right}`}`
}

function carried(raw: string): string {
  const [, sign = '', whole = '', numerator = '', denominator = ''] = /^([-−+]?)(\d+)\s+(\d+)\/(\d+)$/.exec(raw) ?? []
  const over = Number(numerator) % Number(denominator)
  const inches = Number(whole) + Math.floor(Number(numerator) / Number(denominator))
  return over === 0 ? `${sign}${inches}` : `${sign}${inches} ${over}/${Number(denominator)}`
}

function joined(before: string, fraction: string): string {
  const whole = before.trim()
  return /\d$/.test(whole) ? `${whole} ${fraction}` : `${whole}${fraction}`
}

const withoutBlanks = (s: string): string => [...s].filter((c) => !isBlank(c.charCodeAt(0))).join('')
