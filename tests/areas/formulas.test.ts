// The formula that is shown is the formula that is computed: each is evaluated by mathjs on the inputs shown beside it, over the sample shop, the
// broken samples and the examples of the rules, and compared with the value shown. A formula that lies fails.
import { describe, expect, test } from 'vitest'
import { QUANTITIES } from '../../server/src/areas/generated/quantities.ts'
import { type Formula, type Inputs, type Quantity, textOf } from '../../server/src/areas/quantity.ts'
import { definitionsOf } from '../../server/src/areas/reckon.ts'
import { asRange, type Range } from '../../server/src/calc/range.ts'
import type { Setup } from '../../server/src/model/setup.ts'
import { allSetups } from '../support/all-setups.ts'
import { close, ENDS, evaluate, evaluated, symbolsOf } from '../support/formulas.ts'

function valuesOf(inputs: Inputs): Readonly<Record<string, Range>> {
  const given = Object.entries(inputs).filter((entry) => entry[1] !== undefined)
  return Object.fromEntries(given.map(([symbol, input]) => [symbol, asRange(input!.value)]))
}

type Verdict = 'evaluated' | 'not known' | string

/** A formula that cannot be evaluated is told by its key, and the others are judged all the same. */
function verdictOf(quantity: Quantity, setup: Setup): Verdict {
  try {
    return judge(quantity, setup)
  } catch (error) {
    return `${quantity.key}: ${textOf(quantity.formula)} cannot be evaluated: ${(error as Error).message}`
  }
}

/** Whether what is shown is what comes out. */
function judge(quantity: Quantity, setup: Setup): Verdict {
  if (quantity.applies?.(setup) === false) return 'not known'
  const outcome = quantity.value(setup)
  if (!outcome.ok) return 'not known'
  const inputs = valuesOf(quantity.inputs(setup))
  const value = asRange(outcome.value)
  const { formula } = quantity
  const shown = `${quantity.key}: ${textOf(formula)} with ${JSON.stringify(inputs)} is shown as ${JSON.stringify(value)}`
  if (typeof formula !== 'string' && 'kind' in formula) {
    if (formula.kind === 'choice' || formula.kind === 'table') {
      const there = Object.values(inputs).some((input) => ENDS.every((end) => close(input[end], value[end])))
      return there ? 'evaluated' : `${shown}, which is none of them`
    }
    return judgeSteps(quantity, setup, inputs, value.typical) ?? 'evaluated'
  }
  const text = textOf(formula)
  const missing = symbolsOf(text).filter((symbol) => !inputs[symbol])
  if (missing.length > 0) return `${shown}, and ${missing.join(', ')} is not among the inputs`
  const found = evaluated(text, typeof formula === 'string' ? 'corners' : formula.ends, inputs)
  return ENDS.every((end) => close(found[end], value[end])) ? 'evaluated' : `${shown}, and is ${JSON.stringify(found)}`
}

/** What is wrong with the steps of a quantity; undefined where they lead to its value. */
function judgeSteps(
  quantity: Quantity,
  setup: Setup,
  inputs: Readonly<Record<string, Range>>,
  value: number,
): string | undefined {
  const { steps } = quantity.formula as Extract<Formula, { steps: unknown }>
  const scope: Record<string, number> = Object.fromEntries(
    Object.entries(inputs).map(([symbol, { typical }]) => [symbol, typical]),
  )
  let last = Number.NaN
  for (const step of steps(setup)) {
    const found = evaluate(step.formula, { ...scope, ...step.with })
    if (!close(found, step.value)) return `${quantity.key}: the step ${step.formula} is shown as ${step.value}, and is ${found}`
    scope[step.formula.slice(0, step.formula.indexOf('=')).trim()] = step.value
    last = step.value
  }
  return close(last, value) ? undefined : `${quantity.key}: its steps lead to ${last}, and it is shown as ${value}`
}

/** One key for all of a family: 'feed.check.3.u' is 'feed.check.*.u'. */
const nameOf = ({ key }: Quantity): string => key.replace(/\.\d+(?=\.|$)/g, '.*')

describe('the formula that is shown', async () => {
  const setups = await allSetups()
  const verdicts = new Map<string, Set<Verdict>>()
  for (const setup of setups)
    for (const quantity of QUANTITIES.flatMap((area) => definitionsOf(area, setup))) {
      const name = nameOf(quantity)
      const found = verdicts.get(name) ?? new Set<Verdict>()
      verdicts.set(name, found.add(verdictOf(quantity, setup)))
    }

  test.each([...verdicts.keys()].sort())('%s', (key) => {
    const found = [...verdicts.get(key)!]
    expect(found.filter((verdict) => verdict !== 'evaluated' && verdict !== 'not known').slice(0, 3)).toEqual([])
    // One that no setup has is not tested by this.
    expect(found).toContain('evaluated')
  })

  test('is the right one: a wrong one would be seen', () => {
    const inputs = { a: asRange(2), b: { low: 1, typical: 2, high: 4 } }
    expect(evaluated('c = a · b²', 'corners', inputs)).toEqual({ low: 2, typical: 8, high: 32 })
    expect(evaluated('c = a / b − 1', 'each', inputs)).toEqual({ low: -0.5, typical: 0, high: 1 })
    expect(close(1, 1 + 2e-6)).toBe(false)
  })
})
