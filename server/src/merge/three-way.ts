// Three versions of a document made one: what one side changed is taken, what was measured on either side stays, and only where both changed one thing in
// two ways, or where lines cannot be told apart, nothing is made. The text is ours with lines of theirs, so that all that nobody touched stays as it is.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { applyEdits, type TextEdit } from '../base/text-edit.ts'
import { canonical } from '../model/canonical.ts'
import { LiveDocument, type RollDocument } from '../model/document.ts'
import { childOf, type DocumentKind, type SchemaNode } from '../schema/schema.ts'
import type { MapNode, Node, ScalarNode, SeqNode } from '../syntax/tree.ts'
import { auditMerge } from './audit.ts'
import { type Measurement, measurementsIn } from './measurements.ts'
import { itemSegments, lineEnd, mergeLead, pairSegments, type Segment } from './segments.ts'

export interface ThreeTexts {
  /** Where the sides parted; empty where there was no such document. */
  readonly base: string
  readonly ours: string
  readonly theirs: string
}

export interface MergedText {
  readonly text: string
  /** What nobody can tell from the texts, and a person should look at: sentences. */
  readonly remarks: readonly string[]
}

/**
 * The merged text, or why there is none: `input` names the key, the reason is a sentence. What is given has been looked at again: no measurement
 * of it is lost or doubled, and each setting is what the sides make of it together.
 */
export function mergeTexts(kind: DocumentKind, texts: ThreeTexts): Outcome<MergedText> {
  const eol = texts.ours.includes('\r\n') ? '\r\n' : '\n'
  const [base, ours, theirs] = [texts.base, texts.ours, texts.theirs].map((text) => plainText(text, eol)) as [
    string,
    string,
    string,
  ]
  if (ours === theirs || theirs === base) return ok({ text: texts.ours, remarks: [] })
  if (ours === base) return ok({ text: texts.theirs, remarks: [] })
  const merging = new Merging(kind, [base, ours, theirs])
  const merged = merging.merged()
  if (!merged.ok) return merged
  const wrong = auditMerge(kind, { base, ours, theirs, merged: merged.value })
  if (wrong !== undefined) return refuse('', wrong)
  const text = /\n$/.test(texts.ours) ? merged.value : merged.value.replace(/\r?\n$/, '')
  return ok({ text, remarks: merging.remarks })
}

/** With the line breaks of ours, and one behind the last line, so that lines of both can stand side by side. */
function plainText(text: string, eol: string): string {
  const lines = text.replace(/\r\n/g, '\n')
  const whole = lines === '' || lines.endsWith('\n') ? lines : `${lines}\n`
  return eol === '\n' ? whole : whole.replace(/\n/g, eol)
}

/** A part of one version: a node and the text it stands in. */
interface Side<N extends Node = Node> {
  readonly text: string
  readonly node: N
}

/** A place where the sides cannot be put together. Thrown and caught in this file alone. */
class Apart extends Error {
  constructor(
    readonly place: string,
    message: string,
  ) {
    super(message)
  }
}

const CHANGED_BY_BOTH = 'both sides changed it, each in its own way'
const DELETED = 'one side took it out, and the other changed it'
const LINES =
  'its lines cannot be told apart: more than one thing stands in a line, or an anchor, a bracket or several lines are in the way'

class Merging {
  readonly remarks: string[] = []
  private readonly documents: readonly RollDocument[]
  /** What was measured, by where it stands in each version. */
  private readonly measured: readonly ReadonlyMap<number, Measurement>[]

  constructor(
    kind: DocumentKind,
    private readonly texts: readonly [string, string, string],
  ) {
    this.documents = texts.map((text) => new LiveDocument('merged.yaml', kind, text))
    this.measured = this.documents.map((document) =>
      kind === 'media'
        ? new Map(measurementsIn(document as RollDocument<'media'>).map((one) => [one.span.start, one]))
        : new Map<number, Measurement>(),
    )
  }

  merged(): Outcome<string> {
    for (const { unsettled, tree, text } of this.documents) {
      if (unsettled) return refuse('', 'lines of a merge conflict stand in one of the versions')
      if (tree.problems.length > 0) return refuse('', 'the text of one of the versions is broken')
      if (tree.root === undefined ? text.trim() !== '' : tree.root.kind !== 'map' || tree.root.flow)
        return refuse('', 'one of the versions is not a list of settings, each on lines of its own')
      if (/^%|^(?:---|\.\.\.)(?:\s|$)/m.test(text)) return refuse('', 'one of the versions is of several parts')
    }
    const [base, ours, theirs] = this.documents.map(({ tree, text }) =>
      tree.root ? { text, node: tree.root as MapNode } : undefined,
    )
    if (!ours || !theirs) return refuse('', 'one of the sides is empty')
    try {
      const { lines, ends } = this.group(base, ours, theirs, [0, 0, 0], this.documents[1]!.schema, '')
      const rest = this.texts.map((text, i) => (i === 0 && !base ? text : text.slice(ends[i])))
      return ok(lines + mergeLead(rest[0]!, rest[1]!, rest[2]!))
    } catch (error) {
      if (error instanceof Apart) return refuse(error.place, error.message)
      throw error
    }
  }

  /** Pairs of a group, from where its lines begin in each version; `ends`: behind its last line. */
  private group(
    base: Side<MapNode> | undefined,
    ours: Side<MapNode>,
    theirs: Side<MapNode>,
    from: readonly [number, number, number],
    schema: SchemaNode | undefined,
    place: string,
  ): { readonly lines: string; readonly ends: readonly [number, number, number] } {
    const keyOf = ({ key }: { readonly key: ScalarNode | undefined }): string => key?.text ?? ''
    const cut = (side: Side<MapNode>, at: number): readonly Segment[] =>
      pairSegments(side.text, side.node, at, keyOf) ?? apart(place, LINES)
    const [b, o, t] = [base ? cut(base, from[0]) : [], cut(ours, from[1]), cut(theirs, from[2])]
    const lines = weave(b, o, t, {
      place,
      merge: (was, mine, other) => {
        const path = place === '' ? mine.key : `${place}.${mine.key}`
        const body = this.entry(was, mine, other, schema && childOf(schema, mine.key), path)
        return body
      },
      goesBefore: (added, mine) => mine.key < added.key,
    })
    return { lines, ends: [b.at(-1)?.end ?? from[0], o.at(-1)?.end ?? from[1], t.at(-1)?.end ?? from[2]] }
  }

  /** One entry that stands on both sides: its own lines. */
  private entry(was: Segment | undefined, mine: Segment, other: Segment, schema: SchemaNode | undefined, place: string): string {
    const whole = pick(was?.body, mine.body, other.body)
    if (whole !== undefined) return whole
    const [base, ours, theirs] = [was?.value, mine.value, other.value]
    if (ours.shared || theirs.shared) apart(place, LINES)
    if (ours.kind === 'scalar' && theirs.kind === 'scalar')
      return this.inLine(was && base?.kind === 'scalar' ? was : undefined, mine, other, place, (b, o, t) =>
        scalar(b, o, t, schema, place),
      )
    if (ours.kind === 'map' && theirs.kind === 'map') {
      const before = base?.kind === 'map' ? was : undefined
      if (ours.flow && theirs.flow) return this.inLine(before, mine, other, place, (b, o, t) => flow(b, o, t, schema, place))
      if (!ours.flow && !theirs.flow && (!before || !(before.value as MapNode).flow))
        return this.below(before, mine, other, schema, place)
    }
    if (ours.kind === 'seq' && theirs.kind === 'seq' && !ours.flow && !theirs.flow) {
      const list = base?.kind === 'seq' ? (base as SeqNode) : undefined
      if (!list?.flow || list.items.length === 0)
        return this.below(list && !list.flow ? was : undefined, mine, other, schema, place)
    }
    return apart(place, ours.kind === theirs.kind ? LINES : CHANGED_BY_BOTH)
  }

  /** A group or a list below the line of its key. */
  private below(was: Segment | undefined, mine: Segment, other: Segment, schema: SchemaNode | undefined, place: string): string {
    const heads = [was, mine, other].map((segment, i) => segment && lineEnd(this.texts[i]!, segment.start)) as [
      number | undefined,
      number,
      number,
    ]
    const side = (segment: Segment, i: number): Side => ({ text: this.texts[i]!, node: segment.value })
    if (mine.value.start < heads[1] || other.value.start < heads[2]) apart(place, LINES)
    const head = (segment: Segment | undefined, i: number): string | undefined =>
      segment && this.texts[i]!.slice(segment.start, heads[i])
    const line = pick(head(was, 0), head(mine, 1)!, head(other, 2)!) ?? apart(place, CHANGED_BY_BOTH)
    const from = [heads[0] ?? 0, heads[1], heads[2]] as const
    const [base, ours, theirs] = [was && side(was, 0), side(mine, 1), side(other, 2)]
    return (
      line +
      (mine.value.kind === 'map'
        ? this.group(base as Side<MapNode>, ours as Side<MapNode>, theirs as Side<MapNode>, from, schema, place).lines
        : this.list(base as Side<SeqNode>, ours as Side<SeqNode>, theirs as Side<SeqNode>, from, schema, place))
    )
  }

  /** A list as a set: of what was measured by its readings, of anything else by what each must say. A strip goes with the print it is of. */
  private list(
    base: Side<SeqNode> | undefined,
    ours: Side<SeqNode>,
    theirs: Side<SeqNode>,
    from: readonly [number, number, number],
    schema: SchemaNode | undefined,
    place: string,
  ): string {
    const item = schema && childOf(schema, '*')
    const cut = (side: Side<SeqNode> | undefined, i: 0 | 1 | 2): readonly Unit[] => {
      if (!side) return []
      const keyOf = this.itemKeys(i, item)
      const segments = itemSegments(side.text, side.node, from[i], keyOf) ?? apart(place, LINES)
      return unitsOf(segments)
    }
    const units = [cut(base, 0), cut(ours, 1), cut(theirs, 2)] as const
    demandOneCorrection(...units, place)
    this.remarkOn(...units)
    return weave<Unit>(...units, {
      place,
      merge: (was, mine, other) => {
        const whole = pick(was?.body, mine.body, other.body)
        if (whole !== undefined) return whole
        const [one, two] = [this.measured[1]!.get(mine.value.start), this.measured[2]!.get(other.value.start)]
        if (!was && one && two && (one.detail !== two.detail || one.state !== two.state))
          apart(place, `both sides have ${one.words}, and say different things of it`)
        if (mine.size > 1 || other.size > 1 || mine.value.kind !== 'map' || other.value.kind !== 'map')
          apart(place, CHANGED_BY_BOTH)
        if (!(mine.value as MapNode).flow || !(other.value as MapNode).flow) apart(place, LINES)
        return this.inLine(was?.size === 1 ? was : undefined, mine, other, place, (b, o, t) => flow(b, o, t, item, place))
      },
      goesBefore: (added, mine) => added.date === '' || mine.date <= added.date,
    })
  }

  /** Of what both sides recorded, what may be one measurement or two: one reading in both, or two that differ in the length alone. */
  private remarkOn(base: readonly Unit[], ours: readonly Unit[], theirs: readonly Unit[]): void {
    const known = new Set(base.map(({ key }) => key))
    const added = (list: readonly Unit[], i: 1 | 2): readonly Measurement[] =>
      list.flatMap(({ key, value }) => (known.has(key) ? [] : (this.measured[i]!.get(value.start) ?? [])))
    const mine = added(ours, 1)
    for (const other of added(theirs, 2)) {
      if (mine.some(({ reading }) => reading === other.reading))
        this.remarks.push(
          `Both sides have ${other.words}: it is kept once. If two prints read the same, write the second down again.`,
        )
      else if (mine.some((one) => one.state === other.state && withoutLength(one) === withoutLength(other)))
        this.remarks.push(
          `Both sides have a check of ${other.date} that differs in its reading alone (${other.words}). If it is one print that was put right, take the wrong one out.`,
        )
    }
  }

  private itemKeys(i: 0 | 1 | 2, schema: SchemaNode | undefined): (node: Node) => string {
    const telling = schema?.kind === 'map' ? schema.required : []
    return (node) => {
      const reading = this.measured[i]!.get(node.start)?.reading
      if (reading !== undefined || telling.length === 0 || node.kind !== 'map') return reading ?? canonical(node, schema)
      return telling.map((key) => canonical(node.pair(key)?.value, childOf(schema!, key))).join('\n')
    }
  }

  /** A value that stands on one line, with what is before and behind it there. */
  private inLine(
    was: Segment | undefined,
    mine: Segment,
    other: Segment,
    place: string,
    merge: (base: Side | undefined, ours: Side, theirs: Side) => string,
  ): string {
    const around = (segment: Segment, i: number): readonly [string, string] => {
      const text = this.texts[i]!
      if (/\n./s.test(segment.body)) apart(place, LINES)
      return [text.slice(segment.start, segment.value.start), text.slice(segment.value.end, segment.end)]
    }
    const [b, o, t] = [was && around(was, 0), around(mine, 1), around(other, 2)] as const
    const before = pick(b?.[0], o[0], t[0]) ?? apart(place, CHANGED_BY_BOTH)
    const behind = pick(b?.[1], o[1], t[1]) ?? apart(place, 'both sides wrote something else behind it')
    const side = (segment: Segment, i: number): Side => ({ text: this.texts[i]!, node: segment.value })
    return before + merge(was && side(was, 0), side(mine, 1), side(other, 2)) + behind
  }
}

const withoutLength = ({ detail, kind }: Measurement): string => `${kind.name}\n${detail.replace(/^measured .*$/m, '')}`

function apart(place: string, message: string): never {
  throw new Apart(place, message)
}

const slice = ({ text, node }: Side): string => text.slice(node.start, node.end)

/** What the sides make of one text together; undefined where each changed it in its own way. */
function pick(base: string | undefined, ours: string, theirs: string): string | undefined {
  if (ours === theirs || theirs === base) return ours
  return ours === base ? theirs : undefined
}

/** One value: the same in another unit is no change. */
function scalar(base: Side | undefined, ours: Side, theirs: Side, schema: SchemaNode | undefined, place: string): string {
  const [b, o, t] = [base, ours, theirs].map((side) => side && canonical(side.node, schema))
  const written = pick(base && slice(base), slice(ours), slice(theirs))
  if (written !== undefined) return written
  if (o === t || t === b) return slice(ours)
  return o === b ? slice(theirs) : apart(place, CHANGED_BY_BOTH)
}

/** A group between braces on one line, key by key. */
function flow(base: Side | undefined, ours: Side, theirs: Side, schema: SchemaNode | undefined, place: string): string {
  const [b, o, t] = [base?.node as MapNode | undefined, ours.node as MapNode, theirs.node as MapNode]
  const edits: TextEdit[] = []
  const at = (offset: number): number => offset - o.start
  for (const { key, value } of o.pairs) {
    const name = key?.text ?? ''
    const [was, other] = [b?.pair(name), t.pair(name)]
    const path = `${place}.${name}`
    if (!other) {
      if (was) apart(path, DELETED)
      continue
    }
    const [mine, theirsThen] = [
      { text: ours.text, node: value },
      { text: theirs.text, node: other.value },
    ]
    const before = was && { text: base!.text, node: was.value }
    const inner = schema && childOf(schema, name)
    const newText =
      pick(before && slice(before), slice(mine), slice(theirsThen)) ??
      (value.kind === 'scalar' && other.value.kind === 'scalar'
        ? scalar(before, mine, theirsThen, inner, path)
        : apart(path, CHANGED_BY_BOTH))
    edits.push({ start: at(value.start), end: at(value.end), newText })
  }
  let after: number | undefined
  for (const pair of t.pairs) {
    const name = pair.key?.text ?? ''
    const mine = o.pair(name)
    if (mine) {
      after = mine.end
      continue
    }
    if (b?.pair(name)) apart(`${place}.${name}`, DELETED)
    const text = theirs.text.slice(pair.start, pair.end)
    const place_ = after ?? o.pairs.at(-1)?.end ?? apart(place, LINES)
    edits.push({ start: at(place_), end: at(place_), newText: `, ${text}` })
  }
  return applyEdits(
    slice(ours),
    edits.filter(({ start, end, newText }) => start !== end || newText !== '').sort((x, y) => x.start - y.start),
  )
}

/** A print with the strips that were measured of it, which stand right below. */
interface Unit extends Segment {
  readonly size: number
  readonly date: string
}

function unitsOf(segments: readonly Segment[]): readonly Unit[] {
  const units: Unit[] = []
  const counts = new Map<string, number>()
  for (const segment of segments) {
    const print = isStrip(segment.value) ? units.pop() : undefined
    if (print) {
      units.push({ ...print, size: print.size + 1, body: print.body + segment.lead + segment.body, end: segment.end })
      continue
    }
    // Two that say the same are two.
    const count = (counts.get(segment.key) ?? 0) + 1
    counts.set(segment.key, count)
    units.push({ ...segment, key: `${segment.key}\n${count}`, size: 1, date: textAt(segment.value, 'date') })
  }
  return units
}

/** A reading that is gone from both sides may have been put right on both: then two entries would stand for one measurement. */
function demandOneCorrection(base: readonly Unit[], ours: readonly Unit[], theirs: readonly Unit[], place: string): void {
  const has = (list: readonly Unit[], key: string): boolean => list.some((one) => one.key === key)
  const isNew = (list: readonly Unit[], other: readonly Unit[], date: string): boolean =>
    list.some((one) => one.date === date && !has(base, one.key) && !has(other, one.key))
  for (const { key, date } of base)
    if (!has(ours, key) && !has(theirs, key) && isNew(ours, theirs, date) && isNew(theirs, ours, date))
      apart(place, 'both sides put one reading right, each in its own way')
}

const textAt = (node: Node, key: string): string => {
  const value = node.kind === 'map' ? node.pair(key)?.value : undefined
  return value?.kind === 'scalar' ? value.text : ''
}

const isStrip = (node: Node): boolean => textAt(node, 'same-print') === 'true'

interface Weaving<S extends Segment> {
  readonly place: string
  /** The lines of an entry that stands on both sides. */
  merge(was: S | undefined, mine: S, other: S): string
  /** Whether an entry that ours alone added stands before one that theirs alone added, of two at one place. */
  goesBefore(added: S, mine: S): boolean
}

/** The entries of both sides, ours in their order, what theirs added behind what it stands behind there. */
function weave<S extends Segment>(base: readonly S[], ours: readonly S[], theirs: readonly S[], how: Weaving<S>): string {
  const byKey = (list: readonly S[]): ReadonlyMap<string, S> => new Map(list.map((one) => [one.key, one]))
  const [b, o, t] = [byKey(base), byKey(ours), byKey(theirs)]
  if (b.size < base.length || o.size < ours.length || t.size < theirs.length) apart(how.place, 'an entry stands there twice')
  const name = (key: string): string => (how.place === '' ? key : how.place)
  const out: { readonly entry: S; readonly text: string; readonly added: boolean }[] = []
  for (const mine of ours) {
    const [was, other] = [b.get(mine.key), t.get(mine.key)]
    if (other) {
      const lead = mergeLead(was?.lead ?? '', mine.lead, other.lead)
      out.push({ entry: mine, text: lead + how.merge(was, mine, other), added: false })
    } else if (!was) out.push({ entry: mine, text: mine.lead + mine.body, added: true })
    else if (was.body !== mine.body || was.lead !== mine.lead) apart(name(mine.key), DELETED)
  }
  let place = 0
  for (const other of theirs) {
    const at = out.findIndex(({ entry }) => entry.key === other.key)
    if (at >= 0) {
      place = at + 1
      continue
    }
    const was = b.get(other.key)
    if (was) {
      if (was.body !== other.body || was.lead !== other.lead) apart(name(other.key), DELETED)
      continue
    }
    while (out[place]?.added && how.goesBefore(other, out[place]!.entry)) place++
    out.splice(place, 0, { entry: other, text: other.lead + other.body, added: false })
    place++
  }
  return out.map(({ text }) => text).join('')
}
