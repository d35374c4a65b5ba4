// What a word of the format means, as a person is told it.
import type { ChoiceValue } from './schema.ts'

/** Its meaning in a sentence; of something done to a machine also which kinds of evidence it opens. */
export function wordMeaning({ meaning, opens }: ChoiceValue): string {
  if (!opens) return meaning
  return opens.length > 0 ? `${meaning} Opens ${opens.join(', ')}.` : `${meaning} Opens nothing by itself: say what was touched.`
}
