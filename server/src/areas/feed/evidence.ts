// Which feed checks speak for today: those within the shop's re-check time and of the newest lot; where none is recent enough, the last ones made.
// Walks the whole history at every keystroke, so it makes no text: reasons are worded when someone asks.
import { daysBetween } from '../../model/dates.ts'
import type { Check } from '../../model/generated/documents.ts'

/** Why a check does not count: a person said so, or what the shop knows of it. */
export type LeftOut = 'skipped' | 'too-old' | 'other-lot' | 'incomplete' | 'future'

export interface FeedEvidence {
  readonly check: Check
  /** Position in the list, from 0. */
  readonly index: number
  readonly id: string
  /** Days before today; undefined without a date. */
  readonly age: number | undefined
  readonly leftOut: LeftOut | undefined
  /** Why, in plain words. */
  readonly reason: string | undefined
}

/** What decides which checks speak for today. */
interface Terms {
  /** Days: the age up to which a check counts. */
  readonly oldest: number
  readonly recheckDays: number
  readonly lot: string | undefined
}

/** Which checks speak for today. Walks the history twice, and makes no text: a hundred hovers ask for reasons, a thousand keystrokes do not. */
export function weigh(
  checks: readonly Check[],
  today: string,
  recheckDays: number,
): { evidence: FeedEvidence[]; newest: FeedEvidence | undefined; stale: boolean; lot: string | undefined } {
  const ages = checks.map(({ date }) => date && daysBetween(date.value, today))
  let newest = -1
  for (let i = 0; i < checks.length; i++) {
    const age = ages[i]
    if (age === undefined || age < 0 || checks[i]!.skip || !isComplete(checks[i]!)) continue
    if (newest < 0 || age <= ages[newest]!) newest = i
  }
  const youngest = ages[newest] ?? 0
  const stale = newest >= 0 && youngest > recheckDays
  // Where nothing is recent, the last checks still say most: those within the re-check time before the newest one.
  const oldest = stale ? youngest + recheckDays : recheckDays
  const lot = newestLot(checks, ages, oldest)
  const terms: Terms = { oldest, recheckDays, lot }
  const evidence = checks.map((check, i) => new Evidence(check, i, ages[i], whyLeftOut(check, ages[i], terms), terms))
  return { evidence, newest: evidence[newest], stale, lot }
}

/** The lot of the newest check that is recent and names one. */
function newestLot(checks: readonly Check[], ages: readonly (number | undefined)[], oldest: number): string | undefined {
  let newest = -1
  for (let i = 0; i < checks.length; i++) {
    const [check, age] = [checks[i]!, ages[i]]
    if (age === undefined || age < 0 || age > oldest || !check.lot || check.skip || !isComplete(check)) continue
    if (newest < 0 || age <= ages[newest]!) newest = i
  }
  return checks[newest]?.lot?.value
}

class Evidence implements FeedEvidence {
  constructor(
    readonly check: Check,
    readonly index: number,
    readonly age: number | undefined,
    readonly leftOut: LeftOut | undefined,
    private readonly terms: Terms,
  ) {}

  get id(): string {
    return `check ${this.index + 1}`
  }

  get reason(): string | undefined {
    const { check, age, terms } = this
    switch (this.leftOut) {
      case 'incomplete':
        return 'date, commanded, measured or applied is missing or not understood'
      case 'skipped':
        return check.skip?.value
      case 'future':
        return `it is dated ${-(age ?? 0)} days after today`
      case 'too-old':
        return `it is ${age} days old, and a check proves the feed for ${Number(terms.recheckDays.toFixed(1))} days`
      case 'other-lot':
        return `it was made on lot ${check.lot?.value}, and the newest on lot ${terms.lot}`
      default:
        return undefined
    }
  }
}

function whyLeftOut(check: Check, age: number | undefined, { oldest, lot }: Terms): LeftOut | undefined {
  if (!isComplete(check) || age === undefined) return 'incomplete'
  if (check.skip) return 'skipped'
  if (age < 0) return 'future'
  if (age > oldest) return 'too-old'
  return lot !== undefined && check.lot && check.lot.value !== lot ? 'other-lot' : undefined
}

const isComplete = (check: Check): boolean =>
  check.commanded !== undefined && check.measured !== undefined && check.applied !== undefined
