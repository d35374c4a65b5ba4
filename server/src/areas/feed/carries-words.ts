// What brings the checks to today's settings, each law once, with the checks that share it.
import type { Carry } from './carry.ts'
import { carryText } from './doubt-words.ts'
import type { FeedFacts } from './facts.ts'
import { checksByNumber } from './reckoning-words.ts'

/** Each carry with the checks that have it in common, in the order of the checks. */
export function carriesOf({
  counted,
  setup,
}: FeedFacts): readonly { readonly text: string; readonly carry: Carry; readonly ids: readonly string[] }[] {
  const found = new Map<string, { carry: Carry; ids: string[] }>()
  for (const { carries, id } of counted)
    for (const carry of carries) {
      const text = carryText(carry, setup)
      const known = found.get(text)
      if (known) known.ids.push(id)
      else found.set(text, { carry, ids: [id] })
    }
  return [...found].map(([text, { carry, ids }]) => ({ text, carry, ids }))
}

/** "suction 3 → 5: +0.034 mm/m (0.006 to 0.062)", and so on; another lot where that is all. */
export function carriesText(facts: FeedFacts): string {
  const texts = carriesOf(facts).map(({ text }) => text)
  if (facts.otherLots) texts.push(`from other lots to lot ${facts.lot}`)
  return texts.join('; ')
}

/** "shared by checks 1, 2 and 3". */
export const sharedBy = (ids: readonly string[]): string =>
  ids.length > 1 ? `shared by ${checksByNumber(ids)}` : `of ${checksByNumber(ids)}`
