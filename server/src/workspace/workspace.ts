// The documents of one or more shops: open ones with their trees, closed ones as facts, and as trees only while an open one needs them.
// All reading goes through the host and is awaited in `prepare`; everything after that is synchronous, on the newest texts.
import type { Host } from '../host/host.ts'
import { RollDocument } from '../model/document.ts'
import { type Facts, readFacts } from '../model/facts.ts'
import { resolveSetup, type Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import { type DocumentKind, kindOfFile } from '../schema/schema.ts'
import { factsOf } from './facts-of.ts'
import { ShopIndex } from './shop-index.ts'

/** How many closed documents are kept parsed, for the open ones that refer to them. */
const KEPT_CLOSED = 200

export class Workspace {
  private readonly open = new Map<string, RollDocument>()
  private readonly closed = new Map<string, RollDocument>()
  private readonly unreadable = new Map<string, string>()
  private readonly shops = new Map<string, ShopIndex>()
  private readonly folders = new Set<string>()
  private scans = 0
  /** Counts changes to ids and references: findings of any document may depend on it. */
  linksRevision = 0

  constructor(readonly host: Host) {}

  /** Reads the facts of every document below a folder. Open documents keep the text the editor has. */
  async addFolder(folder: string): Promise<void> {
    const root = folder.endsWith('/') ? folder : `${folder}/`
    this.folders.add(root)
    this.scans++
    try {
      const files = await this.host.list(root)
      for (const file of files) if (kindOfFile(file) === 'shop') this.shopAt(folderOf(file))
      await inBatches(files, 64, (file) => this.indexFile(file))
    } finally {
      this.scans--
      this.linksRevision++
    }
  }

  removeFolder(folder: string): void {
    const root = folder.endsWith('/') ? folder : `${folder}/`
    this.folders.delete(root)
    for (const [at, shop] of this.shops) {
      if (!at.startsWith(root)) continue
      for (const kind of ['media', 'stock', 'printer', 'shop'] as const)
        for (const { file } of [...shop.all(kind)]) this.closed.delete(file)
      this.shops.delete(at)
    }
    this.linksRevision++
  }

  /** Opens a document, or takes its new text. Undefined for a file of no kind of ours. */
  update(file: string, text: string): RollDocument | undefined {
    const kind = kindOfFile(file)
    if (!kind) return undefined
    let document = this.open.get(file)
    if (document) document.update(text)
    else {
      document = new RollDocument(file, kind, text)
      this.open.set(file, document)
      this.closed.delete(file)
      this.unreadable.delete(file)
      if (kind === 'shop') this.shopAt(folderOf(file))
    }
    if (this.shopOf(file).put(factsOf(document))) this.linksRevision++
    return document
  }

  /** Closes a document: what the disk has counts again. */
  async close(file: string): Promise<void> {
    if (this.open.delete(file)) await this.changedOnDisk(file)
  }

  /** A file was made, changed or deleted outside the editor. */
  async changedOnDisk(file: string): Promise<void> {
    this.closed.delete(file)
    this.unreadable.delete(file)
    if (this.open.has(file) || !kindOfFile(file)) return
    if (await this.indexFile(file)) this.linksRevision++
  }

  isOpen(file: string): boolean {
    return this.open.has(file)
  }

  openDocuments(): Iterable<RollDocument> {
    return this.open.values()
  }

  document(file: string): RollDocument | undefined {
    return this.open.get(file) ?? this.closed.get(file)
  }

  /** Parses a closed document and keeps it for a while. Undefined where it cannot be read: `whyUnreadable` tells. */
  async load(file: string): Promise<RollDocument | undefined> {
    const at = this.document(file)
    if (at) return at
    const kind = kindOfFile(file)
    if (!kind || this.unreadable.has(file)) return undefined
    try {
      const text = await this.host.read(file)
      const document = this.open.get(file) ?? new RollDocument(file, kind, text)
      if (!this.open.has(file)) this.keep(file, document)
      return document
    } catch (error) {
      this.unreadable.set(file, (error as Error).message)
      this.host.log('error', (error as Error).message)
      return undefined
    }
  }

  whyUnreadable(file: string): string | undefined {
    return this.unreadable.get(file)
  }

  /** Loads what a document's setup needs. Returns undefined when all of it is at hand already. */
  prepare(file: string): Promise<void> | undefined {
    return this.missingFor(file).length ? this.loadNeeded(file) : undefined
  }

  private async loadNeeded(file: string): Promise<void> {
    for (let round = 0; round < 20; round++) {
      const missing = this.missingFor(file)
      if (missing.length === 0) return
      await Promise.all(missing.map((f) => this.load(f)))
    }
  }

  /** The files a document's setup needs that are neither parsed nor known to be unreadable. */
  private missingFor(file: string): readonly string[] {
    const document = this.document(file)
    if (!document) return []
    const missing: string[] = []
    this.walkNeeded(document, (facts) => {
      const found = this.document(facts.file)
      if (!found && !this.unreadable.has(facts.file)) missing.push(facts.file)
      return found
    })
    return missing
  }

  /** Visits the documents a document needs, nearest first, following the bases as far as `visit` returns them parsed. */
  private walkNeeded(document: RollDocument, visit: (facts: Facts) => RollDocument | undefined): void {
    const shop = this.shopOf(document.file)
    const need = (facts: Facts | undefined): RollDocument | undefined => facts && visit(facts)
    if (document.kind !== 'shop') need(shop.get(`${shop.folder}rollbook.yaml`))
    const seen = new Set<string>()
    for (let at: RollDocument | undefined = document; at && isMedia(at) && !seen.has(at.file); ) {
      seen.add(at.file)
      const { values } = factsOf(at)
      if (values.stock) need(shop.withId('stock', values.stock.text)[0])
      if (values.printer) need(shop.withId('printer', values.printer.text)[0])
      at = values.base && need(shop.withId('media', values.base.text)[0])
    }
  }

  setup(document: RollDocument): Setup | undefined {
    return isMedia(document) ? resolveSetup(document, this.shelf(document.file), this.host.today()) : undefined
  }

  /** The parsed documents that a document's findings rest on: itself, the shop's own, and for a profile its bases, stocks and printers. */
  partsOf(document: RollDocument): readonly RollDocument[] {
    const parts = [document]
    this.walkNeeded(document, (facts) => {
      const found = this.document(facts.file)
      if (found) parts.push(found)
      return found
    })
    return parts
  }

  shelf(file: string): Shelf {
    const shop = this.shopOf(file)
    const find = (kind: DocumentKind, id: string): RollDocument | undefined => {
      for (const facts of shop.withId(kind, id)) {
        const document = this.document(facts.file)
        if (document) return document
      }
      return undefined
    }
    return {
      all: (kind) => shop.all(kind),
      withId: (kind, id) => shop.withId(kind, id),
      withSlot: (printer, slot) => shop.withSlot(printer, slot),
      document: (kind, id) => find(kind, id) as never,
      shop: () => this.document(`${shop.folder}rollbook.yaml`) as RollDocument<'shop'> | undefined,
      complete: this.scans === 0,
    }
  }

  /** The index of the shop a file belongs to: that of the nearest folder with a rollbook.yaml, else of the opened folder, else of its own. */
  private shopOf(file: string): ShopIndex {
    for (let at = folderOf(file); at.length > 1; at = folderOf(at.slice(0, -1))) {
      const shop = this.shops.get(at)
      if (shop?.get(`${at}rollbook.yaml`) || (shop && this.folders.has(at))) return shop
      if (this.folders.has(at)) return this.shopAt(at)
      if (!at.slice(0, -1).includes('/')) break
    }
    return this.shopAt(folderOf(file))
  }

  private shopAt(folder: string): ShopIndex {
    let shop = this.shops.get(folder)
    if (!shop) {
      shop = new ShopIndex(folder)
      this.shops.set(folder, shop)
    }
    return shop
  }

  private async indexFile(file: string): Promise<boolean> {
    const kind = kindOfFile(file)
    if (!kind || this.open.has(file)) return false
    try {
      const text = await this.host.read(file)
      return this.open.has(file) ? false : this.shopOf(file).put(readFacts(file, kind, text))
    } catch (error) {
      this.host.log('error', (error as Error).message)
      return this.shopOf(file).remove(file)
    }
  }

  private keep(file: string, document: RollDocument): void {
    this.closed.set(file, document)
    if (this.closed.size > KEPT_CLOSED) this.closed.delete(this.closed.keys().next().value!)
  }
}

const isMedia = (document: RollDocument): document is RollDocument<'media'> => document.kind === 'media'

export const folderOf = (file: string): string => file.slice(0, file.lastIndexOf('/') + 1)

async function inBatches<T>(items: readonly T[], size: number, work: (item: T) => Promise<unknown>): Promise<void> {
  for (let i = 0; i < items.length; i += size) await Promise.all(items.slice(i, i + size).map(work))
}
