// Completion at every place of every kind of document: each key of the format is reached from an empty file by accepting what is offered, and what is
// due there is offered or can only be typed.
import { beforeAll, expect, test } from 'vitest'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import type { Completion } from '../../server/src/features/context.ts'
import { DOCUMENT_KINDS, type DocumentKind, type SchemaNode, schemaOf } from '../../server/src/schema/schema.ts'
import type { Analysis } from '../../server/src/workspace/analysis.ts'
import { openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { readSnippet } from '../support/snippet.ts'
import { inShop } from './example-shop.ts'

const FILES: Readonly<Record<DocumentKind, string>> = {
  shop: `${ROOT}rollbook.yaml`,
  stock: `${ROOT}new.stock.yaml`,
  printer: `${ROOT}new.printer.yaml`,
  media: `${ROOT}new.media.yaml`,
}

let analysis: Analysis
beforeAll(async () => {
  analysis = await openFixture(parseFixture(inShop('profile: example\n')))
})

/** What is offered at the end of a text. */
function offered(kind: DocumentKind, text: string): readonly Completion[] {
  analysis.workspace.update(FILES[kind], text)
  return analysis.completions(FILES[kind], text.length)
}

/** The text with an item taken, up to where the cursor is then. */
function taken(text: string, { edit, snippet }: Completion): string {
  const { text: newText, stops } = snippet ? readSnippet(edit.newText) : { text: edit.newText, stops: [] }
  const whole = applyEdits(text, [{ ...edit, newText }])
  return whole.slice(0, edit.start + (stops[0]?.end ?? newText.length))
}

/** All keys below a schema, with what is to be accepted on the way there. */
function* placesBelow(
  schema: SchemaNode,
  path: readonly string[] = [],
): Generator<{ path: readonly string[]; schema: SchemaNode }> {
  if (path.length > 0) yield { path, schema }
  if (schema.kind === 'map') for (const [key, inner] of schema.properties) yield* placesBelow(inner, [...path, key])
  else if (schema.kind === 'table') yield* placesBelow(schema.values, [...path, '{}'])
  else if (schema.kind === 'list' && schema.items.kind === 'map') yield* placesBelow(schema.items, [...path, '[]'])
}

/** The text with the cursor at a place, reached by what is offered alone; or where it did not lead on. */
function reach(kind: DocumentKind, path: readonly string[]): { readonly text: string } | { readonly stuck: string } {
  let text = ''
  for (const step of path) {
    // A list begins its first item with its key, and behind the dash each of its keys is offered beside the whole item.
    if (step === '[]') continue
    const items = offered(kind, text)
    if (step === '{}') {
      const entry = items.find(({ kind: of }) => of === 'snippet' || of === 'reference')
      // What a shop gives a name of its own has none to be offered: it is typed.
      const start = entry ? taken(text, entry) : text
      text = entry?.kind === 'reference' ? start : `${start}new: `
      if (entry?.kind === 'snippet') text = `${start}new:\n${' '.repeat(/ *$/.exec(start)![0].length + 2)}`
      continue
    }
    const item = items.find(({ label, kind: of }) => of === 'key' && label === step)
    if (!item) return { stuck: `${kind} ${path.join('.')}: ${step} is not offered behind ${JSON.stringify(text)}` }
    text = taken(text, item)
  }
  return { text }
}

test.each(DOCUMENT_KINDS)('every key of a %s is reached by accepting alone', (kind) => {
  const places = [...placesBelow(schemaOf(kind))]
  const stuck = places.flatMap(({ path }) => {
    const there = reach(kind, path)
    return 'stuck' in there ? [there.stuck] : []
  })
  expect(stuck).toEqual([])
  expect(places.length).toBeGreaterThan(20)
})

test.each(DOCUMENT_KINDS)('every word, day and truth of a %s is offered at its place', (kind) => {
  const missing = [...placesBelow(schemaOf(kind))].flatMap(({ path, schema }) => {
    if (schema.kind !== 'leaf' || !schema.accepts.some(({ type }) => type === 'choice' || type === 'boolean' || type === 'date'))
      return []
    const there = reach(kind, path)
    return 'text' in there && offered(kind, there.text).length > 0 ? [] : [path.join('.')]
  })
  expect(missing).toEqual([])
})
