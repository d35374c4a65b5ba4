// Which correction the machine ran with on a day, and who says so: a document is what was meant, and only what was read back tells what the machine had.
import { type Chance, chanceAt } from '../../calc/feed.ts'
import { readBacksOf } from '../../model/read-backs.ts'
import type { FeedFacts } from './facts.ts'
import { asWritten } from './reckoning-words.ts'
import { printsText } from './verdict-words.ts'
import { correctionText } from './words.ts'

export interface HeldThen {
  readonly correction: number
  /** The newest read-back up to the day, unless a check was printed after it; on a machine that is told a length, all that `heldOf` weighs. */
  readonly by: 'machine' | 'file'
  /** Who says so: "by what was read back on 2026-11-12", "according to the file". */
  readonly says: string
  /** Of a print made with it, by the evidence of the day; undefined where nothing usable was measured. */
  readonly chance: Chance | undefined
}

/** By the documents of a day; undefined where nothing says which correction it was. */
export function heldThen(facts: FeedFacts): HeldThen | undefined {
  const said = claimOf(facts)
  const combined = facts.reckoning?.combined
  return said && { ...said, chance: combined && chanceAt(combined, said.correction, facts.tolerance) }
}

function claimOf({ setup, entry, held, newest, applied }: FeedFacts): Omit<HeldThen, 'chance'> | undefined {
  const file = applied && ({ correction: applied.value.si, by: 'file', says: 'according to the file' } as const)
  const [read] = readBacksOf(setup.own.keyed, 'correction', setup.today)
  if (entry === 'measured-length') {
    const claimed = read !== undefined || newest !== undefined
    if (!held?.ok) return undefined
    return claimed ? { correction: held.value.correction, by: 'machine', says: `by ${held.value.by}` } : file
  }
  const correction = read?.correction?.value
  const printed = newest?.check.date?.value
  if (!read?.date || correction?.dimension !== 'relative' || (printed !== undefined && printed > read.date.value)) return file
  return { correction: correction.si, by: 'machine', says: `by what was read back on ${read.date.value}` }
}

/** What ran that day, what the file says where that is another number, and how prints came out with it. */
export function heldThenSentences(facts: FeedFacts): readonly string[] {
  const { applied, held, halfStep, expected } = facts
  const then = heldThen(facts)
  if (!then) {
    const why = held && !held.ok ? held.problem.reason : 'the profile sets none, and none was read back'
    return [`Nothing says which correction the machine ran with: ${why}.`]
  }
  const { correction, by, says, chance } = then
  const apart = by === 'machine' && applied && Math.abs(applied.value.si - correction) > halfStep
  const other = apart ? `. The file has ${asWritten(applied.value)}; what the machine held counts` : ''
  const ran =
    by === 'file'
      ? `According to the file the machine ran with ${correctionText(facts, correction)}: nobody wrote down since its newest print what it had.`
      : `The machine ran with ${correctionText(facts, correction)}, ${says}${other}.`
  // Where the checks prove nothing of the day, no share of prints is told.
  return chance && !expected ? [ran, `With that, ${printsText(facts, chance.print)} by what was measured up to then.`] : [ran]
}
