// The shop's instruments against each other and against time: which is the best at hand for a length, and how a doubt is told.
import { measuredLength } from '../../calc/measurement.ts'
import type { Instrument } from '../../model/generated/documents.ts'
import { type Doubt, suspectOn, tooShort } from '../../model/instrument-history.ts'
import type { Setup } from '../../model/setup.ts'
import { shortened } from '../../rules/support/words.ts'
import { ruleFacts } from '../feed/facts.ts'

/**
 * The instrument of the shop that reads a length (m) with the least uncertainty today: none that is in doubt, due for calibration or too short, and a
 * sensor, which is built into one machine, or a rule of unknown length only where this profile was measured so before. Undefined where there is none.
 */
export function bestInstrument(setup: Setup, length: number): string | undefined {
  const { shop, today, own } = setup
  const checks = own.feed?.checks?.items ?? []
  const used = (name: string): boolean =>
    checks.some((check) => check.with?.value === name && (check.commanded?.value.si ?? 0) >= length)
  let best: { readonly name: string; readonly u: number } | undefined
  for (const [name, instrument] of shop.instruments) {
    if (!readsLengths(instrument) || suspectOn(instrument, today) || (instrument.due && instrument.due.value <= today)) continue
    const known = instrument.kind?.value !== 'sensor' && instrument.length !== undefined
    if (known ? tooShort(instrument, length) : !used(name)) continue
    const measurement = { measured: length, ...ruleFacts(instrument) }
    const read = measuredLength({ measurement, referenceTemperature: shop.referenceTemperature.value })
    if (read.ok && (!best || read.value.u < best.u)) best = { name, u: read.value.u }
  }
  return best?.name
}

const readsLengths = ({ kind, division }: Instrument): boolean =>
  division?.value.dimension === 'length' && ['rule', 'tape', 'sensor'].includes(kind?.value ?? '')

/** "dropped, since 2026-11-02" or "dropped, 2026-11-02 to 2026-11-10". */
export function doubtText({ why, from, to }: Doubt): string {
  const time = to === undefined ? `since ${from}` : to === from ? from : `${from} to ${to}`
  return `${shortened(why, 60)}, ${time}`
}
