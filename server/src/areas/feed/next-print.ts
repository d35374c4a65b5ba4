// What gains most where a feed is not proven: how many more prints, of which of the printer's patterns, measured with which of the shop's instruments, and how
// probable it is that they do. For a command and not for a hover: it tries out futures.
import { asPrint } from '../../calc/feed-combine.ts'
import { gainLimits } from '../../calc/feed-gain.ts'
import { keyIn } from '../../calc/feed-key-in.ts'
import { nextPrints, verdictHelp } from '../../calc/next-prints.ts'
import type { ScatterValue } from '../../calc/scatter-model.ts'
import type { F } from '../../model/field.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { usableInstruments } from '../machine/instruments.ts'
import { type FeedFacts, ruleErrorOn, ruleFacts } from './facts.ts'
import { LEAST_PRINTS, scattersTooMuch, verdictOf } from './verdict.ts'

export interface NextPrint {
  /** How many more prints, each on another day; as many as were tried where none of them does. */
  readonly prints: number
  readonly pattern: Quantity
  /** One of the shop's instruments, by its name. */
  readonly instrument: string
  /** Chance that the feed is proven then. */
  readonly chance: number
  /** Whether that is no good chance: then more prints are not the way. */
  readonly poor: boolean
  /** Whether what the instruments and the weather leave is more than a third of the tolerance, so that more of the same do little. */
  readonly reading: boolean
}

/** As many more prints as anybody makes for one number. */
const MOST = 6
/** A chance that one prints for; and one that is so small that one does something else. */
const GOOD = 0.75
const POOR = 0.25
/** More prints that raise a chance by no more than the rest of this are not worth their day. */
const ALMOST = 0.85

/**
 * The cheapest way to a proven feed, or the best there is. Undefined where a feed is not in doubt for want of prints, where it scatters too much for any, where
 * keying in is enough, and where no instrument of the shop is known to measure a pattern of the printer. Deterministic.
 */
export function nextPrintOf(facts: FeedFacts): NextPrint | undefined {
  const { goal } = verdictOf(facts)
  const { combined } = facts.reckoning ?? {}
  if (!combined || !isOpen(facts)) return undefined
  const help = verdictHelp(combined.mixture, { tolerance: facts.tolerance, goal })
  const least = facts.stated ? 1 : Math.max(1, LEAST_PRINTS - combined.prints)
  let best: Pick<NextPrint, 'prints' | 'pattern' | 'instrument' | 'chance'> | undefined
  for (const { pattern, instrument, print } of optionsOf(facts)) {
    const { u, shared } = print
    const tried = nextPrints({
      input: combined.input,
      option: { u, ...(shared && { shared }), day: 'another' },
      counts: Array.from({ length: MOST - least + 1 }, (_, i) => least + i),
      limits: limitsOf(facts),
      goal,
    })
    if (!tried.ok) continue
    const most = Math.max(...tried.value.map(({ chance }) => chance))
    const enough = most < POOR ? undefined : tried.value.find(({ chance }) => chance >= Math.min(GOOD, ALMOST * most))
    const found = enough ?? tried.value.at(-1)!
    const one = { prints: found.count, pattern, instrument, chance: found.chance }
    if (!best || isCheaper(one, best)) best = one
    if (best.prints === least) break
  }
  return best && { ...best, poor: best.chance < POOR, reading: help.ok && help.value === 'better-reading' }
}

/** Whether a feed is in doubt for want of prints: quick to tell. */
export function isOpen(facts: FeedFacts): boolean {
  const { doubtful, keyedIn, goal } = verdictOf(facts)
  if (!facts.reckoning?.combined) return false
  // Of few prints nobody knows yet whether the feed scatters too much.
  if (doubtful === 'few') return true
  return doubtful === 'between' && !scattersTooMuch(facts) && !(keyedIn && keyedIn.print > goal)
}

/** Fewer prints where both are worth it; else the better chance. */
const isCheaper = (one: Pick<NextPrint, 'prints' | 'chance'>, other: Pick<NextPrint, 'prints' | 'chance'>): boolean =>
  one.chance >= GOOD && other.chance >= GOOD ? one.prints < other.prints : one.chance > other.chance

interface PrintOption {
  readonly pattern: Quantity
  readonly instrument: string
  readonly print: ScatterValue
  readonly u: number
}

/** The way that says most of one print, and the best one with another instrument: its errors are its own. */
function optionsOf(facts: FeedFacts): readonly PrintOption[] {
  const { setup } = facts
  const lengths: readonly F<Quantity>[] = setup.printer?.feed?.['pattern-lengths']?.items ?? []
  const all = lengths.flatMap(({ value: pattern }) =>
    usableInstruments(setup, pattern.si).flatMap(({ name }): PrintOption[] => {
      const print = toCome(facts, pattern.si, name)
      return print ? [{ pattern, instrument: name, print, u: sizeOf(print) }] : []
    }),
  )
  const [best, ...others] = all.sort((a, b) => a.u - b.u)
  const other = others.find(({ instrument }) => instrument !== best?.instrument)
  return [best, other].flatMap((one) => one ?? [])
}

const sizeOf = ({ u, shared = [] }: ScatterValue): number => Math.hypot(u, ...shared.map((part) => part.u))

/** A print as the newest one that counts was measured, but for the pattern and the instrument. */
function toCome({ setup, input, reckoning }: FeedFacts, length: number, instrument: string): ScatterValue | undefined {
  const like = input?.checks.at(-1)
  const rule = setup.shop.instruments.get(instrument)
  const correction = reckoning?.combined?.correction
  if (!input || !like || correction === undefined) return undefined
  const { day: _, carries: __, ...conditions } = like
  const check = {
    ...conditions,
    commanded: length,
    measured: length,
    applied: correction,
    statedUncertainty: undefined,
    instrument,
    hook: undefined,
    ruleExpansion: undefined,
    ...ruleFacts(rule),
    ruleError: ruleErrorOn(rule, setup.today),
  }
  const print = asPrint(check, input.referenceTemperature)
  return print.ok ? print.value : undefined
}

/** Where prints keep the tolerance once a newly reckoned mean is keyed in; where the picks ask, they go on asking for what they ask now. */
function limitsOf({ input, tolerance, reckoning }: FeedFacts): (gain: number) => { readonly low: number; readonly high: number } {
  const picks = reckoning?.fine?.use === 'used' ? reckoning.keyIn?.correction : undefined
  return (gain) => {
    const wanted = 1 / gain - 1
    const set = picks ?? (input ? keyIn({ wanted, rules: input }).correction : wanted)
    const limits = gainLimits({ set, tolerance })
    return limits.ok ? limits.value : { low: gain, high: gain }
  }
}
