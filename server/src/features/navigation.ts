// From a name to what it stands for, from a level or gap to the printer's, and from a setting to the one that it replaces or has to agree with.

import type { RollDocument } from '../model/document.ts'
import { type Facts, ID_KEY } from '../model/facts.ts'
import { levelNamesOf, levelsOf } from '../model/level-names.ts'
import { type NameKind, namingAt } from '../model/names.ts'
import type { Setup } from '../model/setup.ts'
import { equalSi } from '../quantities/compare.ts'
import { parseQuantity } from '../quantities/parse.ts'
import { schemaAt } from '../schema/schema.ts'
import { locate } from '../syntax/locate.ts'
import { nodeAt } from '../syntax/tree.ts'
import type { FeatureContext, Location } from './context.ts'
import { headOf } from './highlights.ts'

type Path = readonly (string | number)[]

export function definition(context: FeatureContext, offset: number): readonly Location[] {
  const { document } = context
  const at = locate(document.tree.root, offset)
  if (at?.node.kind === 'alias') return at.node.target ? [{ file: document.file, span: headOf(at.node.target) }] : []
  if (at?.node.kind !== 'scalar') return []
  const { text, start, end } = at.node
  const naming = namingAt(document.kind, at.path, at.on, text)
  if (naming?.role === 'gives') return [{ file: document.file, span: { start, end } }]
  if (naming) return named(partsFor(context, at.path), naming.of, text)
  const settings = readBack(context, at.path) ?? givenIn(at.path, context.setup?.bases ?? [])
  return [...ofGap(context, at.path), ...settings]
}

/** What a name is looked up in. */
type Parts = Pick<FeatureContext, 'shelf'> & Partial<Pick<Setup, 'own' | 'stock' | 'printer' | 'shop'>>

/** What a name at a path is looked up in: below a state, in the printer that the state names. */
function partsFor({ document, shelf, setup }: FeatureContext, path: Path): Parts {
  if (document.kind === 'printer') return { shelf, printer: (document as RollDocument<'printer'>).content }
  const { own, stock, printer, shop } = setup ?? {}
  const parts: Parts = { shelf, ...(own && { own }), ...(stock && { stock }), ...(printer && { printer }), ...(shop && { shop }) }
  const state = path[0] === 'conditions' && path.length > 2 ? own?.conditions?.entries.get(String(path[1])) : undefined
  if (!state) return parts
  const then = state.printer && shelf.document('printer', state.printer.value)?.content
  return { shelf, ...(own && { own }), ...(then && { printer: then }) }
}

function named({ shelf, own, printer, stock, shop }: Parts, of: NameKind, name: string): readonly Location[] {
  switch (of) {
    case 'media':
    case 'stock':
    case 'printer':
      return shelf.withId(of, name).map(idLocation)
    case 'instrument':
      return placed(shop?.instruments.get(name)?.$)
    case 'mode':
      return placed(printer?.modes?.entries.get(name)?.$)
    case 'channel':
      return placed(printer?.heads?.channels?.items.find((c) => c.value === name)?.place)
    case 'lot':
      return placed(stock?.lots?.items.find((l) => String(l.lot?.value) === name)?.$)
    case 'state':
      return placed(own?.conditions?.entries.get(name)?.$)
    case 'suction-level':
    case 'tension-level': {
      const key = of === 'suction-level' ? 'suction' : 'web.tension'
      return placed((levelsOf(printer, key)?.entries.get(name) ?? levelNamesOf(printer, key)?.entries.get(name))?.place)
    }
  }
}

/** Whether nothing has a name that a profile calls by, as far as what would have it is at hand. */
export function leadsNowhere(context: FeatureContext, of: NameKind, name: string, path: Path): boolean {
  const parts = partsFor(context, path)
  const { shelf, own, printer, stock, shop } = parts
  const whole = shelf.complete && shelf.unlisted.length === 0
  const holders: Readonly<Record<NameKind, unknown>> = {
    media: whole,
    stock: whole,
    printer: whole,
    instrument: shop?.document,
    mode: printer?.modes,
    channel: printer?.heads?.channels,
    lot: stock?.lots,
    state: own,
    'suction-level': printer?.suction?.levels,
    'tension-level': printer?.web?.['tension-levels'],
  }
  return Boolean(holders[of]) && named(parts, of, name).length === 0
}

/** A gap is one of those that the printer can be set to. */
function ofGap({ document, setup }: FeatureContext, path: Path): readonly Location[] {
  if (document.kind !== 'media' || !GAPS.has(schemaAt('media', path)?.path ?? '')) return []
  const given = nodeAt(document.tree.root, path)
  const gap = given?.kind === 'scalar' ? parseQuantity(given.text, 'length') : undefined
  const one = gap?.ok && setup?.printer?.carriage?.gaps?.items.find(({ value }) => equalSi(value.si, gap.value.si, 'length'))
  return one ? placed(one.place) : []
}

const GAPS: ReadonlySet<string> = new Set(['gap', 'keyed.*.gap', 'conditions.*.gap'])

/** What was read back from the machine leads to the setting that it has to agree with. */
function readBack({ document, setup }: FeatureContext, path: Path): readonly Location[] | undefined {
  const setting = schemaAt(document.kind, path)?.readsBack?.split('.')
  return setting && givenIn(setting, [document, ...(setup?.bases ?? [])])
}

/** A setting where it is given: for one that replaces a base's, that of the base. */
function givenIn(path: Path, from: readonly RollDocument[]): readonly Location[] {
  for (const { file, tree } of from) {
    const node = nodeAt(tree.root, path)
    if (node) return [{ file, span: { start: node.start, end: node.end } }]
  }
  return []
}

function idLocation(facts: Facts): Location {
  const fact = facts.values[ID_KEY[facts.kind]]
  return { file: facts.file, span: { start: fact?.start ?? 0, end: fact?.end ?? 0 } }
}

function placed(
  place:
    | {
        readonly file: string
        readonly node: { readonly start: number; readonly end: number }
        readonly key?: { readonly start: number; readonly end: number }
      }
    | undefined,
): readonly Location[] {
  const at = place?.key ?? place?.node
  return place && at ? [{ file: place.file, span: { start: at.start, end: at.end } }] : []
}
