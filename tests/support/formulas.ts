// Formulas as they are shown, evaluated by a reference library on the inputs shown beside them.
import { all, create } from 'mathjs'
import { asRange, type Range } from '../../server/src/calc/range.ts'

const math = create(all!, {})

/** Values are compared to this part of themselves. */
const CLOSE = 1e-6

/** The right-hand side as mathjs writes it. */
const expressionOf = (text: string): string =>
  text
    .slice(text.indexOf('=') + 1)
    .replaceAll('·', '*')
    .replaceAll('−', '-')
    .replaceAll('²', '^2')
    .replaceAll('³', '^3')
    .replaceAll('⁴', '^4')
    .replaceAll('√', 'sqrt')
    .replaceAll('π', 'pi')
    .replaceAll('ln(', 'log(')

export const evaluate = (text: string, scope: Readonly<Record<string, number>>): number =>
  math.evaluate(expressionOf(text), { ...scope }) as number

/** The symbols of an expression, without the names of functions and constants. */
export function symbolsOf(text: string): readonly string[] {
  const out = new Set<string>()
  math.parse(expressionOf(text)).traverse((node, path) => {
    if (node.type === 'SymbolNode' && path !== 'fn') out.add((node as unknown as { readonly name: string }).name)
  })
  out.delete('pi')
  return [...out]
}

export const ENDS = ['low', 'typical', 'high'] as const

/** The ends of the expression: over all corners of the inputs, or with all inputs at one end. */
export function evaluated(text: string, ends: 'corners' | 'each', inputs: Readonly<Record<string, Range>>): Range {
  const used = symbolsOf(text)
  const at = (pick: (symbol: string) => 'low' | 'typical' | 'high'): number =>
    evaluate(text, Object.fromEntries(used.map((symbol) => [symbol, inputs[symbol]![pick(symbol)]])))
  const typical = at(() => 'typical')
  if (ends === 'each') {
    const [low, , high] = ENDS.map((end) => at(() => end)) as [number, number, number]
    return { low: Math.min(low, high), typical, high: Math.max(low, high) }
  }
  const ranged = used.filter((symbol) => inputs[symbol]!.low !== inputs[symbol]!.high)
  const corners = Array.from({ length: 2 ** ranged.length }, (_, bits) =>
    at((symbol) => {
      const place = ranged.indexOf(symbol)
      return place < 0 ? 'typical' : (bits >> place) & 1 ? 'high' : 'low'
    }),
  )
  return { low: Math.min(typical, ...corners), typical, high: Math.max(typical, ...corners) }
}

export const close = (a: number, b: number): boolean => Math.abs(a - b) <= CLOSE * Math.max(Math.abs(a), Math.abs(b), 1e-12)

export const closeRanges = (a: Range | number, b: Range | number): boolean =>
  ENDS.every((end) => close(asRange(a)[end], asRange(b)[end]))
