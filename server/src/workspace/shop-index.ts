// The index of one shop: the facts of its documents by file, id and slot, kept up to date one document at a time. Where several answer, they
// do so in the order of their files' names: what is told must not depend on which was typed or read first.
import { type Facts, ID_KEY } from '../model/facts.ts'
import type { DocumentKind } from '../schema/schema.ts'
import type { Question } from './askers.ts'

/** The facts of several documents by file, put in order when they are asked for. */
class Group {
  private readonly byFile = new Map<string, Facts>()
  private inOrder: readonly Facts[] | undefined

  get size(): number {
    return this.byFile.size
  }

  put(facts: Facts): void {
    this.byFile.set(facts.file, facts)
    this.inOrder = undefined
  }

  remove(file: string): void {
    this.byFile.delete(file)
    this.inOrder = undefined
  }

  list(): readonly Facts[] {
    this.inOrder ??= [...this.byFile.values()].sort((a, b) => (a.file < b.file ? -1 : 1))
    return this.inOrder
  }
}

/** Most ids are one document's, which needs no group. */
type Groups = Map<string, Facts | Group>

const listed = (found: Facts | Group | undefined): readonly Facts[] =>
  found === undefined ? NONE : found instanceof Group ? found.list() : [found]

const NONE: readonly Facts[] = []

export class ShopIndex {
  private readonly byFile = new Map<string, Facts>()
  private readonly byId: Groups = new Map()
  private readonly bySlot: Groups = new Map()
  /** All files in order, while none comes or goes. */
  private inOrder: readonly string[] | undefined

  constructor(
    /** The shop's folder, ending in '/'. */
    readonly folder: string,
    /** Is told of every question whose answer a change may make another. */
    private readonly changed: (question: Question) => void,
  ) {}

  get(file: string): Facts | undefined {
    return this.byFile.get(file)
  }

  put(facts: Facts): void {
    const before = this.byFile.get(facts.file)
    this.byFile.set(facts.file, facts)
    if (before) this.unlink(before)
    else this.inOrder = undefined
    link(this.byId, idKey(facts), facts)
    link(this.bySlot, facts.values.slot?.text, facts)
    this.tell(before, facts)
  }

  remove(file: string): void {
    const facts = this.byFile.get(file)
    if (!facts) return
    this.byFile.delete(file)
    this.inOrder = undefined
    this.unlink(facts)
    this.tell(facts, undefined)
  }

  /**
   * Tells what is answered otherwise. Titles are read where they are shown and by nothing that is kept, so that typing one changes nothing;
   * an id or a slot that only stands elsewhere now is told, since findings of other documents point to it.
   */
  private tell(before: Facts | undefined, after: Facts | undefined): void {
    const kind = (before ?? after)!.kind
    const key = ID_KEY[kind]
    const [oldId, newId] = [before?.values[key], after?.values[key]]
    const [oldSlot, newSlot] = [before?.values.slot, after?.values.slot]
    const same = before && after && sameTexts(before, after)
    if (!before || !after || oldId?.text !== newId?.text) this.changed(`all ${kind}`)
    if (!same || oldId?.start !== newId?.start)
      for (const id of new Set([oldId?.text, newId?.text])) if (id !== undefined) this.changed(`id ${kind} ${id}`)
    if (!same || oldSlot?.start !== newSlot?.start)
      for (const slot of new Set([oldSlot?.text, newSlot?.text])) if (slot !== undefined) this.changed(`slot ${slot}`)
  }

  everything(): Iterable<Facts> {
    return this.byFile.values()
  }

  *all(kind: DocumentKind): Iterable<Facts> {
    this.inOrder ??= [...this.byFile.keys()].sort()
    for (const file of this.inOrder) {
      const facts = this.byFile.get(file)
      if (facts?.kind === kind) yield facts
    }
  }

  withId(kind: DocumentKind, id: string): readonly Facts[] {
    return listed(this.byId.get(`${kind} ${id}`))
  }

  /** Profiles that name a slot on a printer, their own or their base's; `asking` is told of the bases' ids that were looked up for it. */
  withSlot(printer: string, slot: string, asking: (id: string) => void): readonly Facts[] {
    return listed(this.bySlot.get(slot)).filter((f) => this.printerOf(f, asking) === printer)
  }

  /** A profile's printer, its own or the nearest base's. */
  private printerOf(facts: Facts, asking: (id: string) => void): string | undefined {
    let at: Facts | undefined = facts
    for (let i = 0; at && i < 16; i++) {
      if (at.values.printer) return at.values.printer.text
      const base: string | undefined = at.values.base?.text
      if (base !== undefined) asking(base)
      at = base === undefined ? undefined : this.withId('media', base)[0]
    }
    return undefined
  }

  private unlink(facts: Facts): void {
    unlink(this.byId, idKey(facts), facts)
    unlink(this.bySlot, facts.values.slot?.text, facts)
  }
}

function idKey({ kind, values }: Facts): string | undefined {
  const id = values[ID_KEY[kind]]?.text
  return id === undefined ? undefined : `${kind} ${id}`
}

function link(groups: Groups, key: string | undefined, facts: Facts): void {
  if (key === undefined) return
  const before = groups.get(key)
  if (before instanceof Group) before.put(facts)
  else if (before === undefined || before.file === facts.file) groups.set(key, facts)
  else {
    const group = new Group()
    group.put(before)
    group.put(facts)
    groups.set(key, group)
  }
}

function unlink(groups: Groups, key: string | undefined, facts: Facts): void {
  const group = key === undefined ? undefined : groups.get(key)
  if (group instanceof Group) group.remove(facts.file)
  if (group instanceof Group ? group.size === 0 : group?.file === facts.file) groups.delete(key!)
}

/** Whether all that other documents may rest on is the same. */
function sameTexts(a: Facts, b: Facts): boolean {
  const keys = new Set([...Object.keys(a.values), ...Object.keys(b.values)]) as Set<keyof Facts['values']>
  keys.delete('title')
  for (const key of keys) if (a.values[key]?.text !== b.values[key]?.text) return false
  return true
}
