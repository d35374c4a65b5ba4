// The shared half of the rules that follow a name to another document of the shop.

import { nearest } from '../../base/nearest.ts'
import { lastPart } from '../../base/uri.ts'
import { type Facts, ID_KEY } from '../../model/facts.ts'
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
  if (facts && shelf.document(kind, field.value)?.content) return
  const likely = facts ?? fileNamed(context, kind, field.value)
  if (likely) {
    const file = lastPart(likely.file)
    const id = likely.values[ID_KEY[kind]]
    const renamed = id !== undefined && id.text !== field.value
    const message = renamed
      ? `There is no ${name} '${field.value}': ${file} names the ${name} in it '${id.text}'.`
      : `The document of ${name} '${field.value}', ${file}, cannot be read.`
    context.report(field.place, message)
    return
  }
  if (!shelf.complete) return
  const [unlisted] = shelf.unlisted
  if (unlisted !== undefined) {
    // Whether it is there is not known, and a name like it is no better guess than the folder that stays shut.
    const message = `There is no ${name} '${field.value}' in what can be read of this shop: the folder '${lastPart(unlisted)}' cannot be looked into.`
    context.report(field.place, message)
    return
  }
  const near = nearest(field.value, idsOf(context, kind))
  const meant = near === undefined ? '.' : `; did you mean '${near}'?`
  context.report(field.place, `There is no ${name} '${field.value}' in this shop${meant}`, {
    fixes: () => (near === undefined ? [] : [writeValue(field.place, near)]),
  })
}

/** Whether a value stands where the text is broken. */
export const doubtful = (context: RuleContext, { place }: F<unknown>): boolean =>
  mistakesOf(context.document).inDoubt({ start: place.node.start, end: place.node.end })

/** A document in a file of this name, which does not say that it is named so. */
function fileNamed({ shelf, document }: RuleContext, kind: Referred, id: string): Facts | undefined {
  const end = `/${id}.${kind}.yaml`
  for (const facts of shelf.all(kind)) if (facts.file.endsWith(end) && facts.file !== document.file) return facts
  return undefined
}

function idsOf({ shelf, document }: RuleContext, kind: Referred): readonly string[] {
  const ids: string[] = []
  for (const { file, values } of shelf.all(kind)) {
    const id = values[ID_KEY[kind]]?.text
    if (id !== undefined && file !== document.file) ids.push(id)
  }
  return ids.sort()
}
