// `rollbook reckon`: every computed quantity of one profile with what it comes from, for a person or as JSON in SI units.

import { reckon as reckonAll } from '../areas/reckon.ts'
import type { Range } from '../calc/range.ts'
import type { Reckoned, ReckonedInput } from '../model/reckoned.ts'
import type { Setup } from '../model/setup.ts'
import { siSymbol } from '../quantities/si-symbols.ts'
import { reckonedText } from '../report/reckon-text.ts'
import { VERSION } from '../version.ts'
import { defectText, tellTroubles } from './bench.ts'
import { type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { profileOf } from './profile.ts'
import { printable } from './terminal.ts'

export async function reckon(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const { bench, setup, notChecked } = await profileOf(cli, options, at, {
    command: 'reckon',
    holds: 'settings to reckon with',
    doing: 'reckoning',
  })
  let failed = false
  const quantities = reckonAll(setup, (key, error) => {
    failed = true
    bench.trouble(`${key} is not reckoned: it failed inside Rollbook: ${defectText(cli, error)}`)
  })
  if (options.has('json')) cli.out(`${JSON.stringify({ ...reckonJson(setup, quantities), notChecked }, null, 2)}\n`)
  else cli.out(reckonedText(setup, quantities, notChecked).split('\n').map(printable).join('\n'))
  tellTroubles(cli, bench)
  if (failed || notChecked.length > 0) return EXIT.failed
  return quantities.some(({ value }) => value !== undefined) ? EXIT.clean : EXIT.findings
}

/** What the help of `rollbook reckon` documents. Null where a quantity could not be reckoned: `problem` says why. */
export function reckonJson(setup: Setup, quantities: readonly Reckoned[]): object {
  return {
    version: VERSION,
    profile: setup.own.profile?.value ?? null,
    quantities: quantities.map(quantity),
  }
}

function quantity({ key, title, value, dimension, unit, formula, inputs, steps, source, validity, problem }: Reckoned): object {
  return {
    key,
    title,
    value: value === undefined ? null : plain(value),
    unit: unit ?? siSymbol(dimension),
    formula,
    inputs: inputs.map(input),
    ...(steps && { steps: steps.map(({ formula, with: given, value }) => ({ formula, ...(given && { with: given }), value })) }),
    source,
    ...(validity !== undefined && { validity }),
    ...(problem !== undefined && { problem: problemText(problem) }),
  }
}

const input = ({ name, symbol = name, value, dimension, origin, source }: ReckonedInput): object => ({
  name,
  symbol,
  value: plain(value),
  unit: siSymbol(dimension),
  origin,
  ...(source !== undefined && { source }),
})

const plain = (value: number | Range): object | number =>
  typeof value === 'number' ? value : { low: value.low, typical: value.typical, high: value.high }

const problemText = ({ input, reason }: NonNullable<Reckoned['problem']>): string =>
  input === undefined ? reason : `${input}: ${reason}`
