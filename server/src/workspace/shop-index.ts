// The index of one shop: the facts of its documents by file, id and slot, kept up to date one document at a time.
import { type Facts, ID_KEY } from '../model/facts.ts'
import type { DocumentKind } from '../schema/schema.ts'

const NONE: readonly Facts[] = []

export class ShopIndex {
  private readonly byFile = new Map<string, Facts>()
  private readonly byId = new Map<string, Facts[]>()
  private readonly bySlot = new Map<string, Facts[]>()

  constructor(
    /** The shop's folder, ending in '/'. */
    readonly folder: string,
  ) {}

  get size(): number {
    return this.byFile.size
  }

  get(file: string): Facts | undefined {
    return this.byFile.get(file)
  }

  /** Takes a document's facts. Returns whether an id or a reference changed, so that other documents' findings may have. */
  put(facts: Facts): boolean {
    const before = this.byFile.get(facts.file)
    this.byFile.set(facts.file, facts)
    if (before && sameTexts(before, facts)) {
      replace(this.byId.get(idKey(before)), before, facts)
      replace(this.bySlot.get(before.values.slot?.text ?? ''), before, facts)
      return false
    }
    if (before) this.unlink(before)
    link(this.byId, idKey(facts), facts)
    if (facts.values.slot) link(this.bySlot, facts.values.slot.text, facts)
    return true
  }

  remove(file: string): boolean {
    const facts = this.byFile.get(file)
    if (!facts) return false
    this.byFile.delete(file)
    this.unlink(facts)
    return true
  }

  everything(): Iterable<Facts> {
    return this.byFile.values()
  }

  *all(kind: DocumentKind): Iterable<Facts> {
    for (const facts of this.byFile.values()) if (facts.kind === kind) yield facts
  }

  withId(kind: DocumentKind, id: string): readonly Facts[] {
    return this.byId.get(`${kind} ${id}`) ?? NONE
  }

  /** Profiles that name a slot on a printer, their own or their base's. */
  withSlot(printer: string, slot: string): readonly Facts[] {
    return (this.bySlot.get(slot) ?? NONE).filter((f) => this.printerOf(f) === printer)
  }

  /** A profile's printer, its own or the nearest base's. */
  private printerOf(facts: Facts): string | undefined {
    let at: Facts | undefined = facts
    for (let i = 0; at && i < 16; i++) {
      if (at.values.printer) return at.values.printer.text
      at = at.values.base && this.withId('media', at.values.base.text)[0]
    }
    return undefined
  }

  private unlink(facts: Facts): void {
    unlink(this.byId, idKey(facts), facts)
    if (facts.values.slot) unlink(this.bySlot, facts.values.slot.text, facts)
  }
}

const idKey = (facts: Facts): string => `${facts.kind} ${facts.values[ID_KEY[facts.kind]]?.text ?? ''}`

function link(map: Map<string, Facts[]>, key: string, facts: Facts): void {
  const list = map.get(key)
  if (list) list.push(facts)
  else map.set(key, [facts])
}

function unlink(map: Map<string, Facts[]>, key: string, facts: Facts): void {
  const list = map.get(key)
  if (!list) return
  const left = list.filter((f) => f.file !== facts.file)
  if (left.length) map.set(key, left)
  else map.delete(key)
}

function replace(list: Facts[] | undefined, before: Facts, after: Facts): void {
  const at = list?.indexOf(before) ?? -1
  if (at >= 0) list![at] = after
}

function sameTexts(a: Facts, b: Facts): boolean {
  const keys = new Set([...Object.keys(a.values), ...Object.keys(b.values)]) as Set<keyof Facts['values']>
  for (const key of keys) if (a.values[key]?.text !== b.values[key]?.text) return false
  return true
}
