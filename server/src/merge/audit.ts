// A merged document looked at again: whether all that both sides measured is in it once, under its own state, and each setting is what the sides make of
// it together. Whoever made the text.
import { canonical } from '../model/canonical.ts'
import { LiveDocument, type RollDocument } from '../model/document.ts'
import { EVIDENCE } from '../model/evidence.ts'
import { childOf, type DocumentKind, type SchemaNode } from '../schema/schema.ts'
import { type Node, resolveAlias } from '../syntax/tree.ts'
import { lossesIn } from './lost.ts'
import { measurementsIn } from './measurements.ts'

export interface MergedTexts {
  /** Where the sides parted; empty where there was no such document. */
  readonly base: string
  readonly ours: string
  readonly theirs: string
  readonly merged: string
}

/** What is wrong with a merged text, as a sentence without its stop; undefined where nothing is. */
export function auditMerge(kind: DocumentKind, texts: MergedTexts): string | undefined {
  const read = (text: string): RollDocument => new LiveDocument('merged.yaml', kind, text)
  const [base, ours, theirs, merged] = [read(texts.base), read(texts.ours), read(texts.theirs), read(texts.merged)]
  if (merged.unsettled) return 'lines of a conflict stand in it'
  if ([base, ours, theirs].some(({ unsettled }) => unsettled)) return 'lines of a conflict stand in one of the versions'
  if ([base, ours, theirs, merged].some(({ tree }) => tree.problems.length > 0))
    return 'the text of a version, or what is made of them, is broken'
  if (kind === 'media') {
    const measured = (document: RollDocument) => measurementsIn(document as RollDocument<'media'>)
    const [loss] = lossesIn({ bases: [measured(base)], parents: [measured(ours), measured(theirs)], merged: measured(merged) })
    if (loss) return `a measurement would be ${WHAT[loss.what]}: ${loss.measurement.words}`
  }
  const [b, o, t, m] = [base, ours, theirs, merged].map(settingsOf) as [Settings, Settings, Settings, Settings]
  for (const key of new Set([...b.keys(), ...o.keys(), ...t.keys(), ...m.keys()])) {
    const [was, mine, other, now] = [b.get(key), o.get(key), t.get(key), m.get(key)]
    if (mine !== other && mine !== was && other !== was) return `both sides changed ${key}, each in its own way`
    if (now !== (mine === was ? other : mine)) return `${key} would not be what one side made of it`
  }
  return undefined
}

const WHAT = { dropped: 'lost', doubled: 'doubled', state: 'put under another state', returned: 'there again' } as const

type Settings = ReadonlyMap<string, string>

/** All values by the keys that lead to them, but lists of what was measured or came in, which are sets. */
function settingsOf({ tree, schema }: RollDocument): Settings {
  const out = new Map<string, string>()
  const walk = (node: Node | undefined, at: SchemaNode | undefined, path: string): void => {
    const value = resolveAlias(node)
    if (EVIDENCE.some(({ name }) => name === path) || !value) return
    if (value.kind === 'map')
      for (const { key, value: inner } of value.pairs) {
        const name = key?.text ?? ''
        walk(inner, at && childOf(at, name), path === '' ? name : `${path}.${name}`)
      }
    else if (value.kind === 'scalar' || value.items.every((item) => item.kind === 'scalar')) out.set(path, canonical(value, at))
  }
  walk(tree.root, schema, '')
  return out
}
