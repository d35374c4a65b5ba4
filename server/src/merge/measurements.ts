// What was measured, as one thing that is found again in another version of the document: by its reading, whatever its remarks, its units, its place
// in the text, or the name of the state it was made under.
import type { Span } from '../base/span.ts'
import { canonical } from '../model/canonical.ts'
import type { RollDocument } from '../model/document.ts'
import { EVIDENCE, type EvidenceKind } from '../model/evidence.ts'
import { childOf, schemaAt } from '../schema/schema.ts'
import { type MapNode, type Node, nodeAt, resolveAlias } from '../syntax/tree.ts'

export interface Measurement {
  readonly kind: EvidenceKind
  /** As written: '2026-03-22'; empty where it has none. */
  readonly date: string
  /** Of one kind, day, instrument and result: equal for what may be one measurement. */
  readonly reading: string
  /** All that it says, but remarks and the state: two prints of one reading may differ in it. */
  readonly detail: string
  /** What the machine was set to, by content; the name alone where no such state is described; empty where it does not say. */
  readonly state: string
  /** "feed.checks of 2026-03-22: commanded 1000 mm, measured 998.2 mm, with rule-1m". */
  readonly words: string
  /** The name of its state as written. */
  readonly under: string | undefined
  /** Where it stands in the text. */
  readonly span: Span
}

/** What is added later, or is looked at apart. */
const REMARKS: ReadonlySet<string> = new Set(['note', 'skip', 'settled'])

const UNDER = 'under'
const STATE = schemaAt('media', ['conditions', '*'])

/** All that was measured in a profile, in the order of the schema and of the text. Nothing of its bases. */
export function measurementsIn({ tree }: RollDocument<'media'>): readonly Measurement[] {
  const states = new Map<string, string>()
  const stateOf = (name: string): string => {
    let state = states.get(name)
    if (state === undefined) {
      const node = nodeAt(tree.root, ['conditions', name])
      state = node ? canonical(node, STATE) : name
      states.set(name, state)
    }
    return state
  }
  return EVIDENCE.flatMap((kind) => entriesAt(nodeAt(tree.root, kind.path), kind).map((map) => measurement(map, kind, stateOf)))
}

function entriesAt(node: Node | undefined, { form }: EvidenceKind): readonly MapNode[] {
  const at = resolveAlias(node)
  const nodes = form === 'list' ? (at?.kind === 'seq' ? at.items.map(resolveAlias) : []) : [at]
  return nodes.filter((one) => one?.kind === 'map')
}

function measurement(map: MapNode, kind: EvidenceKind, stateOf: (name: string) => string): Measurement {
  const values = new Map<string, string>()
  for (const { key } of map.pairs)
    if (key && !values.has(key.text)) values.set(key.text, canonical(map.pair(key.text)!.value, childOf(kind.entry, key.text)))
  const said = (keys: readonly string[]): string => keys.map((key) => `${key} ${values.get(key) ?? ''}`).join('\n')
  const own = [...values.keys()].filter((key) => key !== UNDER && !REMARKS.has(key)).sort()
  const telling = tellingOf(kind)
  const reading = telling.length > 0 ? ['date', ...telling, 'with'] : own
  const text = (key: string): string | undefined => {
    const value = resolveAlias(map.pair(key)?.value)
    return value?.kind === 'scalar' ? value.text : undefined
  }
  const date = text('date') ?? ''
  const under = text(UNDER)
  const told = reading.flatMap((key) => {
    const value = key === 'date' ? undefined : text(key)
    return value === undefined ? [] : [`${key} ${value}`]
  })
  return {
    kind,
    date,
    reading: `${kind.name}\n${said(reading)}`,
    detail: said(own),
    state: under === undefined ? '' : stateOf(under),
    words: `${kind.name}${date === '' ? '' : ` of ${date}`}${told.length === 0 ? '' : `: ${told.join(', ')}`}`,
    under,
    span: { start: map.start, end: map.end },
  }
}

/** What tells readings of one day apart; none for those that are known by all they say. Not the correction applied, which is a setting. */
const tellingOf = ({ entry }: EvidenceKind): readonly string[] =>
  entry.required.filter((key) => key !== 'date' && key !== 'applied')
