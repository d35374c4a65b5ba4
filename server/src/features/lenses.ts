// What stands above the name of a stock, a printer or an instrument: who uses it. Above a section of a profile: what to do at the machine, what more
// evidence would gain, and above each kind of evidence the way to record more of it.
import { HEADS } from '../areas/generated/heads.ts'
import { RECORDINGS } from '../areas/generated/recordings.ts'
import type { Gain } from '../areas/head.ts'
import type { Span } from '../base/span.ts'
import { ID_KEY } from '../model/facts.ts'
import { mentionsIn } from '../model/names.ts'
import type { Setup } from '../model/setup.ts'
import { inherited } from '../report/start/pairing.ts'
import { nodeAt } from '../syntax/tree.ts'
import type { FeatureContext } from './context.ts'

export interface Lens {
  readonly span: Span
  /** Undefined for what is told only where somebody looks: which profiles use an instrument has to be read in their texts. */
  readonly title: string | undefined
  /** The profiles that use a stock or a printer. */
  readonly users?: readonly string[]
  /** What is looked for then: who uses what is named here, or what more evidence would gain in a section. */
  readonly about: { readonly uses: true } | { readonly words: true } | { readonly gainIn: string } | { readonly records: string }
}

export function lenses(context: FeatureContext): readonly Lens[] {
  return context.document.kind === 'media' ? aboveSections(context) : aboveNames(context)
}

function aboveNames({ document, shelf }: FeatureContext): readonly Lens[] {
  const { kind, tree } = document
  const given = mentionsIn(kind, tree.root).filter(({ role, aliased }) => role === 'gives' && !aliased)
  return given.flatMap(({ of, name, node: { start, end } }): readonly Lens[] => {
    const about = { uses: true } as const
    if (of === 'instrument') return [{ span: { start, end }, title: undefined, about }]
    if (of !== kind || (of !== 'stock' && of !== 'printer')) return []
    const users: string[] = []
    let based = 0
    for (const facts of shelf.all('media')) {
      if (inherited(shelf, facts, of) !== name) continue
      users.push(facts.file)
      if (facts.values[ID_KEY[of]] === undefined) based++
    }
    return [{ span: { start, end }, title: usedBy(users.length, based), users, about }]
  })
}

/** In words; `based` of them name it through their base alone. */
export function usedBy(profiles: number, based = 0): string {
  const through = based === 0 ? '' : based === profiles ? ', through a base' : `, ${based} of them through a base`
  return `used by ${profiles === 0 ? 'no profile' : profiles === 1 ? '1 profile' : `${profiles} profiles`}${through}`
}

function aboveSections({ document, setup }: FeatureContext): readonly Lens[] {
  if (!setup) return []
  const { root } = document.tree
  const keyOf = (path: readonly string[]): Span | undefined => {
    const map = nodeAt(root, path.slice(0, -1))
    const key = map?.kind === 'map' ? map.pair(path.at(-1)!)?.key : undefined
    return key && { start: key.start, end: key.end }
  }
  const heads = HEADS.flatMap(({ section, words, mayGain }): readonly Lens[] => {
    const span = keyOf([section])
    const title = span && words(setup)
    if (!span || title === undefined) return []
    const head: Lens = { span, title, about: { words: true } }
    return mayGain(setup) ? [head, { span, title: undefined, about: { gainIn: section } }] : [head]
  })
  const records = RECORDINGS.flatMap(({ kind, words, entries }): readonly Lens[] => {
    const span = keyOf(kind.split('.'))
    return span && entries(setup).length > 0 ? [{ span, title: `Record ${words}`, about: { records: kind } }] : []
  })
  return [...heads, ...records]
}

/** What more evidence would gain in a section. */
export const gainIn = (setup: Setup | undefined, section: string): Gain | undefined =>
  setup && HEADS.find((head) => head.section === section)?.gain(setup)
