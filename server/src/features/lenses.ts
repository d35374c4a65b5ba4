// What stands above the name of a stock, a printer or an instrument: who uses it.
import type { Span } from '../base/span.ts'
import { ID_KEY } from '../model/facts.ts'
import { mentionsIn } from '../model/names.ts'
import { inherited } from '../report/start/pairing.ts'
import type { FeatureContext } from './context.ts'

export interface Lens {
  readonly span: Span
  /** Undefined for an instrument: which profiles use it has to be read in their texts, and is only where somebody looks. */
  readonly title: string | undefined
  /** The profiles that use a stock or a printer. */
  readonly users?: readonly string[]
}

export function lenses({ document, shelf }: FeatureContext): readonly Lens[] {
  const { kind, tree } = document
  const given = mentionsIn(kind, tree.root).filter(({ role, aliased }) => role === 'gives' && !aliased)
  return given.flatMap(({ of, name, node: { start, end } }): readonly Lens[] => {
    if (of === 'instrument') return [{ span: { start, end }, title: undefined }]
    if (of !== kind || (of !== 'stock' && of !== 'printer')) return []
    const users: string[] = []
    let based = 0
    for (const facts of shelf.all('media')) {
      if (inherited(shelf, facts, of) !== name) continue
      users.push(facts.file)
      if (facts.values[ID_KEY[of]] === undefined) based++
    }
    return [{ span: { start, end }, title: usedBy(users.length, based), users }]
  })
}

/** In words; `based` of them name it through their base alone. */
export function usedBy(profiles: number, based = 0): string {
  const through = based === 0 ? '' : based === profiles ? ', through a base' : `, ${based} of them through a base`
  return `used by ${profiles === 0 ? 'no profile' : profiles === 1 ? '1 profile' : `${profiles} profiles`}${through}`
}
