// What gains most, in words: what to print, how often and with which rule to measure it, then how probable it is that this settles it.
import type { FeedFacts } from './facts.ts'
import type { NextPrint } from './next-print.ts'

/** The thing to do, with its chance; where that is a poor one, what is in the way. */
export function nextPrintSentences(facts: FeedFacts, next: NextPrint): readonly string[] {
  const { prints, pattern, instrument, chance, poor, reading } = next
  const which = `the ${pattern.written} ${pattern.unit.id} pattern`
  const text = inTwentieths(chance)
  if (!poor) {
    const print =
      prints === 1 ? `Print ${which} once more, on another day,` : `Print ${prints} more of ${which}, each on another day,`
    return [`${print} and measure with ${instrument}: then it is proven with a chance of ${text}.`]
  }
  const more = `Even ${prints === 1 ? 'one more' : `${prints} more`} of ${which}, measured with ${instrument}, ${prints === 1 ? 'proves' : 'prove'} it with a chance of ${text} only.`
  if (reading)
    return [
      `A better rule or a longer pattern is needed: what ${instrument} and the weather leave is most of what is not known. ${more}`,
    ]
  const steady = facts.stated ? '' : ', or state how far it scatters (feed.repeatability)'
  return [`More prints are not the way: look at what makes the feed scatter${steady}, or allow more. ${more}`]
}

/** The chance first, in so few words that it stands beside the verdict on a narrow screen. */
export function nextPrintTitle({
  prints,
  chance,
  poor,
  reading,
}: Pick<NextPrint, 'prints' | 'chance' | 'poor' | 'reading'>): string {
  if (poor) return `${inTwentieths(chance)}: ${reading ? 'measure better' : 'mind the scatter'}`
  return `${inTwentieths(chance)} with ${prints === 1 ? '1 more print' : `${prints} more prints`}`
}

/** A chance as it was counted, over 64 futures: to five hundredths, and never certain. */
function inTwentieths(chance: number): string {
  if (chance > 0.95) return 'over 95 %'
  return chance < 0.05 ? 'under 5 %' : `${Math.round(chance * 20) * 5} %`
}
