// Two versions of one document, key by key, by what they say: settings, evidence, states and words that came, went or moved; and apart from those what is
// only written another way. It walks the trees and not the model, so that what the format does not know is not passed over.
import { LineIndex } from '../base/line-index.ts'
import { canonical } from '../model/canonical.ts'
import type { RollDocument } from '../model/document.ts'
import { childOf, type SchemaNode } from '../schema/schema.ts'
import { PlainReader } from '../syntax/plain.ts'
import { MapNode, type Node, resolveAlias, type ScalarNode, type SeqNode } from '../syntax/tree.ts'
import type { Change, Form, Rewritten, Written } from './change-set.ts'
import { levelOf } from './levels.ts'
import { numberOf, sameValue, sizeOf, writtenAt } from './values.ts'

export interface Difference {
  readonly changes: readonly Change[]
  readonly form: Form
  /** The dotted keys that say something else, without names of entries in lists: what a quantity may have read. */
  readonly keys: ReadonlySet<string>
}

/** The numbers of levels that have a name, by where they stand. */
type Levels = ReadonlyMap<Node | undefined, number>

/** What a change of a document says; a level by its name and by its number are the same. One that is not there on a side came or went as a whole. */
export function differenceOf(
  before: RollDocument | undefined,
  after: RollDocument | undefined,
  levels?: readonly [Levels, Levels],
): Difference {
  const made = new Differ(before, after, levels)
  return made.run()
}

type At = Exclude<Node, { kind: 'alias' }> | undefined

/** Where the walk is: the keys that are shown, and those that lead there by the format. */
interface Step {
  readonly shown: readonly string[]
  readonly keys: readonly string[]
  readonly schema: SchemaNode | undefined
}

class Differ {
  private readonly changes: Change[] = []
  private readonly rewritten: Rewritten[] = []
  private readonly keys = new Set<string>()
  private readonly lines: readonly [LineIndex, LineIndex]
  private order = false
  private flow = false

  constructor(
    private readonly before: RollDocument | undefined,
    private readonly after: RollDocument | undefined,
    private readonly levels?: readonly [Levels, Levels],
  ) {
    this.lines = [new LineIndex(before?.text ?? ''), new LineIndex(after?.text ?? '')]
  }

  run(): Difference {
    const { before, after } = this
    const schema = (after ?? before)?.schema
    this.walk(resolveAlias(before?.tree.root), resolveAlias(after?.tree.root), { shown: [], keys: [], schema })
    const [a, b] = [before?.text ?? '', after?.text ?? '']
    const comments = before !== undefined && after !== undefined && commentsOf(before) !== commentsOf(after)
    const told = this.changes.length > 0 || this.rewritten.length > 0 || this.order || comments
    const layout = before !== undefined && after !== undefined && (this.flow || (!told && a !== b))
    return {
      changes: this.changes,
      form: { rewritten: this.rewritten, order: this.order, comments, layout },
      keys: this.keys,
    }
  }

  private walk(a: At, b: At, step: Step): void {
    const [none, nothing] = [isNothing(a), isNothing(b)]
    // `gap:` with nothing behind it says no more than no key at all; a group that comes or goes is told by its values.
    if (none && nothing) return
    if (none && b?.kind === 'map') this.maps(emptyLike(b), b, step)
    else if (nothing && a?.kind === 'map') this.maps(a, emptyLike(a), step)
    else if (none || nothing) this.tell(none ? undefined : a, nothing ? undefined : b, step)
    else if (a?.kind === 'map' && b?.kind === 'map') this.maps(a, b, step)
    else if (a?.kind === 'seq' && b?.kind === 'seq') this.lists(a, b, step)
    else if (a?.kind === 'scalar' && b?.kind === 'scalar') this.scalars(a, b, step)
    else this.tell(a, b, step)
  }

  private maps(a: MapNode, b: MapNode, step: Step): void {
    if (a.flow !== b.flow && a.pairs.length > 0 && b.pairs.length > 0) this.flow = true
    const [one, other] = [entriesOf(a), entriesOf(b)]
    const common = [...one.keys()].filter((key) => other.has(key))
    if (common.join('\n') !== [...other.keys()].filter((key) => one.has(key)).join('\n')) this.order = true
    for (const key of new Set([...one.keys(), ...other.keys()]))
      this.walk(resolveAlias(one.get(key)), resolveAlias(other.get(key)), {
        shown: [...step.shown, key],
        keys: [...step.keys, key],
        schema: step.schema && childOf(step.schema, key),
      })
  }

  private lists(a: SeqNode, b: SeqNode, step: Step): void {
    if (a.flow !== b.flow && a.items.length > 0 && b.items.length > 0) this.flow = true
    const [one, other] = [a.items.map(resolveAlias), b.items.map(resolveAlias)]
    if ([...one, ...other].every((item): item is MapNode => item?.kind === 'map'))
      this.entries(one as MapNode[], other as MapNode[], step)
    else this.wholeLists(a, b, step)
  }

  /** A list of single values is one value: a range, a pattern's picks. */
  private wholeLists(a: SeqNode, b: SeqNode, step: Step): void {
    const same =
      a.items.length === b.items.length &&
      a.items.every((item, i) => {
        const [x, y] = [resolveAlias(item), resolveAlias(b.items[i])]
        const schema = step.schema && childOf(step.schema, i)
        return x?.kind === 'scalar' && y?.kind === 'scalar' ? sameValue(x, y, schema) : exactly(x) === exactly(y)
      })
    if (!same) this.tell(a, b, step)
    else this.rewrite(this.textOf(a, 0), this.textOf(b, 1), step)
  }

  /** Entries that say the same are the same wherever they stand; of the others those of one day or name, in their order. */
  private entries(a: readonly MapNode[], b: readonly MapNode[], step: Step): void {
    const waiting = new Map<string, number[]>()
    b.forEach((item, i) => {
      const text = meaningOf(item, step)
      waiting.set(text, [...(waiting.get(text) ?? []), i])
    })
    const pairs: [number, number][] = []
    let left: number[] = []
    a.forEach((item, i) => {
      const at = waiting.get(meaningOf(item, step))?.shift()
      if (at === undefined) left.push(i)
      else pairs.push([i, at])
    })
    const taken = new Set(pairs.map(([, at]) => at))
    const free = b.map((_, i) => i).filter((i) => !taken.has(i))
    for (const label of [labelOf, () => '']) {
      const unmatched: number[] = []
      for (const i of left) {
        const name = label(a[i]!, step.schema)
        // Entries that cannot be told apart by name are paired where as many went as came.
        const k = name === undefined ? -1 : free.findIndex((at) => label(b[at]!, step.schema) === name)
        if (k < 0 || (name === '' && (isDated(a[i]!) || left.length !== free.length))) unmatched.push(i)
        else pairs.push([i, free.splice(k, 1)[0]!])
      }
      left = unmatched
    }
    pairs.sort(([i], [j]) => i - j)
    if (pairs.some(([, at], n) => n > 0 && at < pairs[n - 1]![1])) this.order = true
    const inner = (item: MapNode, i: number): Step => ({
      shown: [...step.shown, labelOf(item, step.schema) ?? String(i + 1)],
      keys: step.keys,
      schema: step.schema && childOf(step.schema, i),
    })
    for (const [i, at] of pairs) this.maps(a[i]!, b[at]!, inner(b[at]!, at))
    for (const i of left) this.tell(a[i], undefined, inner(a[i]!, i))
    for (const i of free) this.tell(undefined, b[i], inner(b[i]!, i))
  }

  private scalars(a: ScalarNode, b: ScalarNode, step: Step): void {
    const [was, is] = [this.levels?.[0].get(a), this.levels?.[1].get(b)]
    const same = was === undefined || is === undefined ? sameValue(a, b, step.schema) : was === is
    if (same) this.rewrite(this.source(a, 0), this.source(b, 1), step)
    else this.tell(a, b, step)
  }

  private rewrite(before: string, after: string, { shown }: Step): void {
    if (before !== after) this.rewritten.push({ path: shown.join('.'), before, after })
  }

  private tell(a: At, b: At, step: Step): void {
    const path = step.shown.join('.')
    const size = sizeOf(a, b, step.schema)
    this.keys.add(step.keys.join('.'))
    this.changes.push({
      what: whatOf(step, (this.after ?? this.before)!),
      path,
      ...(a && { before: this.written(a, 0, step) }),
      ...(b && { after: this.written(b, 1, step) }),
      ...(size !== undefined && { size }),
      level: levelOf(step.keys.join('.')),
    })
  }

  private written(node: Node, side: 0 | 1, step: Step): Written {
    const si = numberOf(node, step.schema)
    return {
      text: this.textOf(node, side),
      ...(si !== undefined && { si }),
      line: this.lines[side].range({ start: node.start, end: node.start }).start.line + 1,
    }
  }

  private document(side: 0 | 1): RollDocument {
    return (side === 0 ? this.before : this.after)!
  }

  private textOf(node: Node, side: 0 | 1): string {
    return writtenAt(this.document(side).text, node)
  }

  /** With its quotes: what they change is how a value is written. */
  private source(node: Node, side: 0 | 1): string {
    return this.document(side).text.slice(node.start, node.end)
  }
}

const isNothing = (node: At): boolean =>
  node === undefined || (node.kind === 'scalar' && node.style === 'empty') || (node.kind === 'map' && node.pairs.length === 0)

/** The keys of a group with their values, merge keys seen through; of a key that is given twice the first counts. */
function entriesOf(map: MapNode): ReadonlyMap<string, Node> {
  const out = new Map<string, Node>()
  for (const { key, value } of new PlainReader().pairs(map)) if (key && !out.has(key.text)) out.set(key.text, value)
  return out
}

const emptyLike = ({ anchor, start, flow }: MapNode): MapNode => new MapNode(anchor, start, start, flow, [])

/** What an entry says, notes included. */
const meaningOf = (item: MapNode, { schema }: Step): string =>
  `${canonical(item, schema && childOf(schema, 0))}\n${['note', 'title'].map((key) => exactly(item.pair(key)?.value)).join('\n')}`

/** A value as it is written, apart from where. */
function exactly(node: Node | undefined): string {
  const at = resolveAlias(node)
  if (at === undefined) return ''
  if (at.kind === 'scalar') return JSON.stringify(at.text)
  if (at.kind === 'seq') return `[${at.items.map(exactly).join(',')}]`
  return `{${at.pairs.map(({ key, value }) => `${JSON.stringify(key?.text)}:${exactly(value)}`).join(',')}}`
}

const DAYS: readonly string[] = ['date', 'lot', 'from']

const isDated = (item: MapNode): boolean => DAYS.some((key) => item.pair(key) !== undefined)

/** What an entry of a list is known by: its day or lot, or the key that the format names it by. */
function labelOf(item: MapNode, schema: SchemaNode | undefined): string | undefined {
  const items = schema?.kind === 'list' ? schema.items : undefined
  const keys = [...(items?.kind === 'map' && items.nameKey ? [items.nameKey] : []), ...DAYS]
  const parts = keys.flatMap((key) => {
    const value = resolveAlias(item.pair(key)?.value)
    return value?.kind === 'scalar' && value.text !== '' ? [value.text.replace(/\s+/g, ' ')] : []
  })
  return parts.length === 0 ? undefined : [...new Set(parts)].join(' ')
}

const WORDS = /^(?:title|notes|observed)\b|(?:^|\.)note$/

/** Evidence is what has a day of its own; a stock's deliveries, a machine's events and its room are kept the same way. */
function whatOf({ keys, schema }: Step, { schema: root }: RollDocument): Change['what'] {
  const path = keys.join('.')
  if (WORDS.test(path) && keys[0] !== 'observed') return 'words'
  if (keys[0] === 'conditions') return 'state'
  let at: SchemaNode | undefined = root
  for (const key of keys) {
    at = at && childOf(at, key)
    if (isEvidence(at)) return 'evidence'
    if (at?.kind === 'list') at = at.items
  }
  return isEvidence(schema) ? 'evidence' : 'setting'
}

function isEvidence(schema: SchemaNode | undefined): boolean {
  const entry = schema?.kind === 'list' ? schema.items : schema
  return entry?.kind === 'map' && (entry.properties.has('date') || entry.properties.has('lot'))
}

/** The comments of a text, each on a line, whatever stands between them. */
function commentsOf({ text, tree: { root } }: RollDocument): string {
  const out: string[] = []
  let at = 0
  const gap = (to: number): void => {
    for (const [, comment] of text.slice(at, Math.max(at, to)).matchAll(/(?:^|[\s,[{])(#[^\n]*)/g)) out.push(comment!.trim())
  }
  const walk = (node: Node): void => {
    if (node.kind === 'map')
      for (const { key, value } of node.pairs) {
        if (key) walk(key)
        walk(value)
      }
    else if (node.kind === 'seq') for (const item of node.items) walk(item)
    else if (node.end > node.start) {
      gap(node.start)
      at = Math.max(at, node.end)
    }
  }
  if (root) walk(root)
  gap(text.length)
  return out.join('\n')
}
