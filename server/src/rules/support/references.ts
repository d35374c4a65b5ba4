// The shared half of the rules that follow a name to another document of the shop.
import { nearest } from '../../base/nearest.ts'
import { ID_KEY } from '../../model/facts.ts'
import type { F } from '../../model/field.ts'
import { isId } from '../../schema/structure.ts'
import type { RuleContext } from '../rule.ts'
import { writeValue } from './fixes.ts'
import { mistakesOf } from './mistakes.ts'

type Referred = 'stock' | 'printer' | 'media'

const NAMES: Readonly<Record<Referred, string>> = { stock: 'stock', printer: 'printer', media: 'profile' }

/** Reports a name in this document that leads to no document, or to one that cannot be read. */
export function reportMissing(context: RuleContext, kind: Referred, field: F<string> | undefined): void {
  const { shelf, document } = context
  if (!field || field.place.file !== document.file || !isId(field.value) || doubtful(context, field)) return
  const [facts] = shelf.withId(kind, field.value)
  const name = NAMES[kind]
  if (facts) {
    if (shelf.document(kind, field.value)?.content) return
    const file = facts.file.slice(facts.file.lastIndexOf('/') + 1)
    context.report(field.place, `The document of ${name} '${field.value}', ${file}, cannot be read.`)
    return
  }
  if (!shelf.complete) return
  const near = nearest(field.value, idsOf(context, kind))
  const meant = near === undefined ? '.' : `; did you mean '${near}'?`
  context.report(field.place, `There is no ${name} '${field.value}' in this shop${meant}`, {
    fixes: () => (near === undefined ? [] : [writeValue(field.place, near)]),
  })
}

/** Whether a value stands where the text is broken. */
export const doubtful = (context: RuleContext, { place }: F<unknown>): boolean =>
  mistakesOf(context.document).inDoubt({ start: place.node.start, end: place.node.end })

function idsOf({ shelf, document }: RuleContext, kind: Referred): readonly string[] {
  const ids: string[] = []
  for (const { file, values } of shelf.all(kind)) {
    const id = values[ID_KEY[kind]]?.text
    if (id !== undefined && file !== document.file) ids.push(id)
  }
  return ids.sort()
}
