// The documents of one or more shops: open ones with their trees, closed ones as facts, and as trees only while an open one needs them.
// All reading goes through the host and is awaited in `prepare`; everything after that is synchronous, on the newest texts. A text that comes
// in is only kept: it is read when something is asked, so that of several in a row the last alone is.

import { lastPart, uriBeside } from '../base/uri.ts'
import { CannotRead, type Host } from '../host/host.ts'
import { type Attached, filesNamedIn, OUTSIDE } from '../model/attached.ts'
import { MAX_COLOUR_BYTES, readColourFile } from '../model/colour-file.ts'
import { LiveDocument, type RollDocument } from '../model/document.ts'
import { type Facts, factsOf, ID_KEY, readFacts, tellingOf } from '../model/facts.ts'
import type { MediaDocument } from '../model/generated/documents.ts'
import { instrumentsWithHistory, type Measured, measuredOf, readMeasured } from '../model/measured.ts'
import { resolveSetup, type Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import { type DocumentKind, kindOfFile } from '../schema/schema.ts'
import { type Asker, Askers, type Question } from './askers.ts'
import { folderOf, foldersAbove, Territories } from './folders.ts'
import { ShopIndex } from './shop-index.ts'

export { folderOf }

/** For how many milliseconds the rest of a far shop waits for the first answer about an open document, and for those that come right after it. */
const FIRST_ANSWER = 2000
const FIRST_ANSWERS = 100

/** How many closed documents are kept parsed, for the open ones that refer to them. */
const KEPT_CLOSED = 200

/** How many files that are no documents are kept read, beside those that the newest question needs. */
const KEPT_ATTACHED = 100

/** What a profile that names a file cannot do without; most that have it name one. */
const MAY_NAME = /\b(?:icc|reference)\b|\bmeasured["']?:\s*(?:\[|-|#)/

const SHOP_FILE = 'rollbook.yaml'

/** A document of a shop that could not be read, or a folder that could not be looked into, and why: words that follow a colon. */
export interface Unread {
  readonly place: string
  readonly kind: DocumentKind | 'folder'
  readonly reason: string
}

/** Facts of documents by their files, as far as they are known. */
export type KnownFacts = Pick<ReadonlyMap<string, Facts>, 'get'>

export class Workspace {
  private readonly open = new Map<string, LiveDocument>()
  private readonly closed = new Map<string, LiveDocument>()
  /** How many closed documents are kept parsed: more only where one is judged by more. */
  private room = KEPT_CLOSED
  /** Files that could not be read, and folders that could not be looked into, when last tried. Each with the reason. */
  private readonly unreadable = new Map<string, string>()
  private readonly unlisted = new Map<string, string>()
  private readonly shops = new Map<string, ShopIndex>()
  /** Folders read to the bottom, and those that hold a rollbook.yaml; all end in '/'. */
  private readonly folders = new Territories()
  /** Folders whose shop was looked for; undefined once that is done. */
  private readonly lookedFor = new Map<string, Promise<void> | undefined>()
  /** Counts the changes of a file on disk: what was read before the newest one is read again. */
  private readonly changes = new Map<string, number>()
  /** Files that profiles name and that are no documents, the ones read last at the end, and those being read. */
  private readonly attached = new Map<string, Attached>()
  private readonly attaching = new Map<string, Promise<void>>()
  /** Of profiles of shops that have an instrument in doubt: what was measured with these instruments. */
  private readonly measured = new Map<string, { readonly instruments: string; readonly by: Measured }>()
  private scans = 0
  /** Counts changes of what documents are called and what they call others. */
  namesChanged = 0
  private readonly scanning = new Set<Promise<void>>()
  /** Of each folder being read, the part that is read first. */
  private readonly reading = new Set<Promise<void>>()
  /** Open documents whose newest text the index does not know yet. */
  private readonly unsettled = new Set<LiveDocument>()
  /** Files that git has a merge of which is not settled, by whoever knows of git. */
  readonly unmerged = new Set<string>()
  /** Somebody was told of an open document: what nobody waits for may be read. */
  answered: () => void = () => undefined
  private readonly firstAnswer = new Promise<void>((resolve) => {
    this.answered = resolve
  })
  /** Who rests on what of the documents. */
  readonly askers = new Askers()
  /** Where set, takes every question that is asked, by whomever, and every document that is loaded: for who judges one document at a time. */
  noted: Set<Question> | undefined
  /** Where set, has documents of another version that are the same in this one, as far as they are read: they are parsed once. */
  same: ((file: string) => LiveDocument | undefined) | undefined

  constructor(readonly host: Host) {}

  /**
   * Reads the facts of every document below a folder. Open documents keep the text the editor has. Of files whose facts are `known`, from another version
   * of the folder that has the same of them, nothing is read before it is needed.
   */
  async addFolder(folder: string, known?: KnownFacts): Promise<void> {
    const root = folder.endsWith('/') ? folder : `${folder}/`
    this.folders.open(root)
    await this.scan(root, undefined, known)
  }

  /**
   * Looks for the shop of a file that lies in none so far: upwards for a rollbook.yaml; where there is none and no opened folder holds
   * the file, the documents beside it are its shop. Undefined when there is nothing to look for.
   */
  ensureShopOf(file: string): Promise<void> | undefined {
    this.settle()
    const folder = folderOf(file)
    // A document that is in no folder, such as an untitled one, is in no shop.
    if (!kindOfFile(file) || folder === '' || foldersAbove(file).some((at) => this.folders.hasShop(at))) return undefined
    if (!this.lookedFor.has(folder)) {
      const done = this.lookForShop(folder).finally(() => this.lookedFor.set(folder, undefined))
      this.lookedFor.set(folder, done)
    }
    return this.lookedFor.get(folder)
  }

  private async lookForShop(folder: string): Promise<void> {
    const above = foldersAbove(folder)
    const opened = above.findLastIndex((at) => this.folders.isOpened(at))
    // Nothing lies above a virtual folder that was opened.
    if (opened >= 0 && this.host.isFar?.(folder)) return
    for (const at of above.slice(opened + 1)) {
      const found = await this.host.read(`${at}${SHOP_FILE}`).catch(() => undefined)
      if (found !== undefined) return this.addFolder(at)
    }
    if (opened < 0) await this.scan(folder, 0)
  }

  /** Whether folders are still being read. */
  get isScanning(): boolean {
    return this.scans > 0
  }

  /** Resolves when every folder asked for so far is read. */
  async settled(): Promise<void> {
    while (this.scanning.size > 0) await Promise.all(this.scanning)
  }

  /**
   * Resolves when the shops, printers and stocks of all folders asked for so far are known; undefined when they are. They are few and read
   * first: what is told of a profile before is told without its printer, and wrong.
   */
  fewRead(): Promise<unknown> | undefined {
    return this.reading.size > 0 ? Promise.all(this.reading) : undefined
  }

  private scan(root: string, depth?: number, known?: KnownFacts): Promise<void> {
    let told: () => void = () => undefined
    const few: Promise<void> = new Promise<void>((resolve) => {
      told = resolve
    }).finally(() => this.reading.delete(few))
    const done: Promise<void> = this.readBelow(root, depth, told, known).finally(() => this.scanning.delete(done))
    this.reading.add(few)
    this.scanning.add(done)
    return done
  }

  private async readBelow(root: string, depth: number | undefined, fewAreRead: () => void, known?: KnownFacts): Promise<void> {
    this.scans++
    forgetBelow(root, this.unlisted)
    let shelved = false
    try {
      const files = await this.host.list(root, depth, (folder, reason) => {
        this.unlisted.set(folder, reason)
        this.host.log('error', `${lastPart(folder)} cannot be listed: ${reason}`)
      })
      const few = files.filter((file) => kindOfFile(file) !== 'media')
      for (const file of few) if (kindOfFile(file) === 'shop') this.folders.addShop(folderOf(file))
      const read = new Set<string>()
      if (this.host.isFar?.(root) && (await this.readNamed(root, files, read))) {
        fewAreRead()
        await Promise.race([this.firstAnswer, pause(FIRST_ANSWER)])
        await pause(FIRST_ANSWERS)
      }
      const index = async (file: string): Promise<unknown> => {
        const facts = known?.get(file)
        return facts ? this.put(facts) : read.has(file) || this.indexFile(file, 'listed')
      }
      await inBatches(few, 64, index)
      this.reshelve()
      shelved = true
      fewAreRead()
      const profiles = files.filter((file) => kindOfFile(file) === 'media')
      await inBatches(profiles, 64, index)
    } catch (error) {
      this.unlisted.set(root, reasonOf(error))
      this.host.log(isGone(error) ? 'info' : 'error', (error as Error).message)
    } finally {
      fewAreRead()
      this.scans--
      // What came since went to its shop at once.
      if (shelved) this.askers.allChanged()
      else this.reshelve()
    }
  }

  /**
   * Reads what the open profiles need and nothing else, found by the files' names, since every read is a journey: their shop's document, stocks, printers and
   * bases. False where a name leads nowhere: then nothing can be told before all of them are read. Where all open profiles are of other folders, theirs go first.
   */
  private async readNamed(root: string, files: readonly string[], done: Set<string>): Promise<boolean> {
    this.settle()
    const open = [...this.open.values()].filter(isMedia)
    const own = open.filter(({ file }) => file.startsWith(root))
    const found = await Promise.all(own.map((document) => this.loadNamed(document, files, done)))
    this.reshelve()
    return open.length > 0 && !found.includes(false)
  }

  private async loadNamed(document: RollDocument, files: readonly string[], done: Set<string>): Promise<boolean> {
    const shop = this.shopFolder(document.file)
    const { values } = factsOf(document)
    const names = (['stock', 'printer', 'base'] as const).flatMap((key) => {
      const id = values[key]?.text
      return id === undefined ? [] : [`/${encodeURIComponent(id)}.${key === 'base' ? 'media' : key}.yaml`]
    })
    const named = names.map((name) => files.find((file) => file.endsWith(name) && this.shopFolder(file) === shop))
    const wanted = [...named, files.find((file) => file === `${shop}${SHOP_FILE}`)].filter((file) => file !== undefined)
    const all = await Promise.all(
      wanted.map(async (file) => {
        if (done.has(file)) return true
        done.add(file)
        const found = await this.load(file)
        if (!found) return done.delete(file) && false
        this.put(factsOf(found))
        return !isMedia(found) || this.loadNamed(found, files, done)
      }),
    )
    return !named.includes(undefined) && !all.includes(false)
  }

  removeFolder(folder: string): void {
    const root = folder.endsWith('/') ? folder : `${folder}/`
    this.folders.shut(root)
    forgetBelow(root, this.unlisted)
    for (const { file, kind } of this.everything()) {
      if (!file.startsWith(root) || this.open.has(file) || foldersAbove(file).some((at) => this.folders.isOpened(at))) continue
      this.letGo(file)
      this.unreadable.delete(file)
      if (kind === 'shop') this.folders.removeShop(folderOf(file))
      this.shopOf(file).remove(file)
    }
    forgetBelow(root, this.attached)
    forgetBelow(root, this.measured)
    for (const at of [...this.lookedFor.keys()]) if (at.startsWith(root)) this.lookedFor.delete(at)
    this.reshelve()
  }

  /** Opens a document, or takes its new text, which is read when something is asked. Undefined for a file of no kind of ours. */
  update(file: string, text: string): LiveDocument | undefined {
    const kind = kindOfFile(file)
    if (!kind) return undefined
    const known = this.document(file)
    const document = known ?? this.live(file, kind, text)
    const same = known?.text === text
    document.update(text)
    this.open.set(file, document)
    this.closed.delete(file)
    this.unreadable.delete(file)
    this.unsettled.add(document)
    if (!same) this.textChanged(file)
    return document
  }

  private live(file: string, kind: DocumentKind, text: string): LiveDocument {
    const document = new LiveDocument(file, kind, text)
    document.unmerged = this.unmerged.has(file)
    return document
  }

  /** Lets the index know of the texts that came in. Whatever reads it does so first. */
  settle(): void {
    for (const document of this.unsettled) {
      this.unsettled.delete(document)
      this.put(document.wasParsed ? factsOf(document) : readFacts(document.file, document.kind, document.text))
    }
  }

  /** Lets an open document keep no more than its text, until something is asked of it. */
  rest(file: string): LiveDocument | undefined {
    const document = this.open.get(file)
    if (document && this.unsettled.has(document)) this.settle()
    document?.rest()
    return document
  }

  /** Closes a document: what the disk has counts again. */
  async close(file: string): Promise<void> {
    const document = this.open.get(file)
    if (!document) return
    this.open.delete(file)
    this.unsettled.delete(document)
    this.askers.changed(`own ${file}`)
    await this.readAnew(file, document)
  }

  /** A file was made, changed or deleted outside the editor. */
  async changedOnDisk(file: string): Promise<void> {
    if (this.attached.has(file) || this.attaching.has(file)) {
      this.changes.set(file, (this.changes.get(file) ?? 0) + 1)
      this.detach(file)
      this.askers.changed(`text ${file}`)
    }
    if (!kindOfFile(file)) return
    const known = this.closed.get(file)
    this.closed.delete(file)
    await this.readAnew(file, known)
  }

  /** Takes what the disk has; where that is the text known before, nothing has changed for whoever rests on it. */
  private async readAnew(file: string, known: LiveDocument | undefined): Promise<void> {
    this.changes.set(file, (this.changes.get(file) ?? 0) + 1)
    if (this.open.has(file)) return
    this.unreadable.delete(file)
    const text = await this.indexFile(file)
    if (this.open.has(file)) return
    if (known === undefined || text !== known.text) this.textChanged(file)
    else if (!this.closed.has(file) && this.askers.isAsked(`file ${file}`)) this.keep(file, known)
  }

  /** Whoever rests on a file's text is stale. */
  private textChanged(file: string): void {
    this.askers.changed(`own ${file}`)
    this.askers.changed(`file ${file}`)
    this.askers.changed(`text ${file}`)
    if (this.measured.delete(file)) this.askers.changed('measured')
  }

  isOpen(file: string): boolean {
    return this.open.has(file)
  }

  openDocuments(): Iterable<LiveDocument> {
    return this.open.values()
  }

  document(file: string): LiveDocument | undefined {
    return this.open.get(file) ?? this.closed.get(file)
  }

  /** Parses a closed document and keeps it for a while. Undefined where it cannot be read: `whyUnreadable` tells. */
  async load(file: string): Promise<LiveDocument | undefined> {
    this.noted?.add(`text ${file}`)
    const at = this.document(file)
    if (at) {
      this.renew(file)
      return at
    }
    const kind = kindOfFile(file)
    if (!kind || this.unreadable.has(file)) return undefined
    try {
      const same = this.same?.(file)
      const text = same?.text ?? (await this.readNewest(file))
      const document = this.document(file) ?? same ?? this.live(file, kind, text)
      if (!this.document(file)) {
        this.keep(file, document)
        this.askers.changed(`file ${file}`)
      }
      return document
    } catch (error) {
      this.unreadable.set(file, reasonOf(error))
      this.askers.changed(`file ${file}`)
      this.askers.changed(`text ${file}`)
      this.host.log('error', (error as Error).message)
      return undefined
    }
  }

  /** The texts of files, closed ones as the disk has them, but for those that cannot be read. Nothing is kept. */
  async texts(files: Iterable<string>): Promise<ReadonlyMap<string, string>> {
    const texts = new Map<string, string>()
    await inBatches([...new Set(files)], 64, async (file) => {
      const text = this.document(file)?.text ?? (await this.readNewest(file).catch(() => undefined))
      if (text !== undefined) texts.set(file, text)
    })
    return texts
  }

  /** Words that follow a colon; undefined for a file that could be read when it was last tried. */
  whyUnreadable(file: string): string | undefined {
    return this.unreadable.get(file)
  }

  /** What could not be read: of the shop a file belongs to, or where none is given, of all. What is called missing may stand there. */
  unread(file?: string): readonly Unread[] {
    const shop = file === undefined ? undefined : this.shopOf(file)
    return [
      ...[...this.unlisted].map(([place, reason]) => ({ place, kind: 'folder' as const, reason })),
      ...[...this.unreadable].map(([place, reason]) => ({ place, kind: kindOfFile(place)!, reason })),
    ].filter(({ place }) => shop === undefined || this.shopOf(place) === shop)
  }

  /** Loads what a document's setup needs. Returns undefined when all of it is at hand already. */
  prepare(file: string): Promise<void> | undefined {
    return this.missingFor(file).length || this.unattached(file).length || this.unmeasured(file).length
      ? this.loadNeeded(file)
      : undefined
  }

  private async loadNeeded(file: string): Promise<void> {
    for (let round = 0; round < 20; round++) {
      // Nothing that it needs, nor itself, makes room for the rest of it.
      const needed = this.neededBy(file)
      this.room = Math.max(KEPT_CLOSED, needed.length)
      for (const at of needed) this.renew(at)
      const missing = needed.filter(this.isMissing)
      if (missing.length === 0) return this.attach(file).then(() => this.measure(file))
      await Promise.all(missing.map((f) => this.load(f)))
    }
  }

  /** The profiles of which a shop's document has to be told what its instruments measured, and is not yet. */
  private unmeasured(file: string): readonly string[] {
    const document = this.document(file)
    const instruments = document ? withHistory(document).join() : ''
    if (instruments === '' || this.isScanning) return []
    return [...this.shopOf(file).all('media')].flatMap((facts) =>
      this.measured.get(facts.file)?.instruments === instruments || this.unreadable.has(facts.file) ? [] : [facts.file],
    )
  }

  /** The newest text of a document, open or closed; undefined where it cannot be read, which is noted. */
  private async textNow(file: string): Promise<string | undefined> {
    try {
      const read = this.document(file)?.text ?? (await this.readNewest(file))
      return this.document(file)?.text ?? read
    } catch (error) {
      if (!this.document(file)) this.unreadable.set(file, reasonOf(error))
      return this.document(file)?.text
    }
  }

  /** Of each profile of a shop that has any, what these instruments measured; undefined while one is not read. */
  private measuredIn(shop: ShopIndex, document: LiveDocument): readonly Measured[] | undefined {
    const instruments = withHistory(document).join()
    const all: Measured[] = []
    for (const { file } of instruments === '' ? [] : shop.all('media')) {
      const known = this.measured.get(file)
      if (known?.instruments !== instruments) {
        if (this.unreadable.has(file)) continue
        return undefined
      }
      if (known.by.checks.length > 0) all.push(known.by)
    }
    return all
  }

  /** Reads what the instruments of a shop measured, where its document tells of one that was in doubt. */
  private async measure(file: string): Promise<void> {
    const wanted = this.unmeasured(file)
    const document = this.document(file)
    if (wanted.length === 0 || !document) return
    const instruments = withHistory(document)
    const key = instruments.join()
    await inBatches(wanted, 64, async (profile) => {
      const text = await this.textNow(profile)
      const at = this.document(profile)
      if (text === undefined) return
      const by = at && isMedia(at) && at.wasParsed ? measuredOf(at, instruments) : readMeasured(profile, text, instruments)
      this.measured.set(profile, { instruments: key, by })
    })
    this.askers.changed('measured')
  }

  /** The documents of the shops that have an instrument which was in doubt or found wrong: they tell of their profiles. */
  async tellingOfProfiles(all: readonly Facts[]): Promise<readonly string[]> {
    const shops = all.filter(({ kind }) => kind === 'shop').map(({ file }) => file)
    const texts = await this.texts(shops)
    return shops.filter((file) => {
      const document = this.document(file) ?? new LiveDocument(file, 'shop', texts.get(file) ?? '')
      return withHistory(document).length > 0
    })
  }

  /** Reads the files that a document and its bases name and that are not read yet; what nobody asked for lately makes room. */
  private async attach(file: string): Promise<void> {
    const document = this.document(file)
    const needed = new Set(document && this.attachedTo(document))
    for (const uri of this.attached.keys()) {
      if (this.attached.size <= KEPT_ATTACHED) break
      if (!needed.has(uri)) this.detach(uri)
    }
    await inBatches(this.unattached(file), 8, (uri) => {
      let reading = this.attaching.get(uri)
      if (!reading) {
        reading = this.readAttached(uri).finally(() => this.attaching.delete(uri))
        this.attaching.set(uri, reading)
      }
      return reading
    })
  }

  /** Reads a file once more where it changed meanwhile. */
  private async readAttached(uri: string): Promise<void> {
    for (;;) {
      const before = this.changes.get(uri)
      let found: Attached
      try {
        found = { state: 'read', file: readColourFile(await this.host.readBytes(uri, MAX_COLOUR_BYTES)) }
      } catch (error) {
        const why = isGone(error) ? 'missing' : 'unreadable'
        found = { state: 'unread', why, reason: reasonOf(error) }
      }
      if (this.changes.get(uri) !== before) continue
      this.attached.set(uri, found)
      this.askers.changed(`file ${uri}`)
      return
    }
  }

  private detach(uri: string): void {
    this.attached.delete(uri)
    this.askers.changed(`file ${uri}`)
  }

  private unattached(file: string): readonly string[] {
    const document = this.document(file)
    return document ? this.attachedTo(document).filter((uri) => !this.attached.has(uri)) : []
  }

  /** The files that a document and its bases name, where they lie in the shop. */
  private attachedTo(document: LiveDocument): readonly string[] {
    if (!isMedia(document)) return []
    const named = this.partsOf(document).flatMap((part) =>
      isMedia(part) && part.content ? filesNamedIn(part.content, part === document ? 'own' : 'base') : [],
    )
    return [...new Set(named.map(({ value, place }) => this.placeOf(place.file, String(value))))].filter(
      (uri) => uri !== undefined,
    )
  }

  /** Of some documents the ones that name one of these files in their own text. */
  async naming(all: readonly Facts[], files: ReadonlySet<string>): Promise<readonly Facts[]> {
    const profiles = all.filter(({ kind }) => kind === 'media')
    const texts = await this.texts(profiles.map(({ file }) => file))
    return profiles.filter(({ file }) => {
      const text = texts.get(file) ?? ''
      if (!MAY_NAME.test(text)) return false
      const { content } = this.document(file) ?? new LiveDocument(file, 'media', text)
      const named = content ? filesNamedIn(content as MediaDocument, 'own') : []
      return named.some(({ value }) => files.has(this.placeOf(file, String(value)) ?? ''))
    })
  }

  /** Where a path leads that stands in a document; undefined where that is no place in the shop's folder. */
  private placeOf(from: string, path: string): string | undefined {
    const uri = uriBeside(from, path)
    return uri?.startsWith(this.shopOf(from).folder) ? uri : undefined
  }

  /** The files, no documents, that were looked for. */
  attachedFiles(): Iterable<string> {
    return this.attached.keys()
  }

  /** The files a document's setup needs that are neither parsed nor known to be unreadable. */
  private missingFor(file: string): readonly string[] {
    return this.neededBy(file).filter(this.isMissing)
  }

  private readonly isMissing = (at: string): boolean => !this.document(at) && !this.unreadable.has(at)

  /** A document, and those that its findings rest on, as far as they are read. */
  private neededBy(file: string): readonly string[] {
    const document = this.document(file)
    if (!document) return []
    const needed = [file]
    const visit = (facts: Facts): LiveDocument | undefined => {
      needed.push(facts.file)
      return this.document(facts.file)
    }
    this.walkNeeded(document, visit)
    this.walkBeside(document, visit)
    return needed
  }

  /**
   * Visits the documents that say something of a document without being part of it: of a shop its printers, whose patterns its rules measure; of a printer or a
   * stock the profiles whose checks tell how far it scatters.
   */
  private walkBeside(document: RollDocument, visit: (facts: Facts) => LiveDocument | undefined): void {
    const shop = this.shopOf(document.file)
    const id = factsOf(document).values[ID_KEY[document.kind]]?.text
    if (document.kind === 'shop') for (const facts of shop.all('printer')) visit(facts)
    if (id === undefined || (document.kind !== 'printer' && document.kind !== 'stock')) return
    const other = document.kind === 'printer' ? 'stock' : 'printer'
    for (const facts of tellingOf(shop.all('media'), document.kind, id)) {
      visit(facts)
      const named = facts.values[other]
      const found = named && this.meant(shop, other, named.text)
      if (found) visit(found)
    }
  }

  /** Visits the documents a document needs, nearest first, following the bases as far as `visit` returns them parsed. */
  private walkNeeded(document: RollDocument, visit: (facts: Facts) => LiveDocument | undefined): void {
    const shop = this.shopOf(document.file)
    const need = (facts: Facts | undefined): LiveDocument | undefined => facts && visit(facts)
    if (document.kind !== 'shop') need(shop.get(`${shop.folder}${SHOP_FILE}`))
    const seen = new Set<string>()
    for (let at: RollDocument | undefined = document; at && isMedia(at) && !seen.has(at.file); ) {
      seen.add(at.file)
      const { values } = factsOf(at)
      if (values.stock) need(this.meant(shop, 'stock', values.stock.text))
      if (values.printer) need(this.meant(shop, 'printer', values.printer.text))
      at = values.base && need(this.meant(shop, 'media', values.base.text))
    }
  }

  /** Of the documents with an id, the one that is taken: the first that can be read. */
  private meant(shop: ShopIndex, kind: DocumentKind, id: string): Facts | undefined {
    return shop.withId(kind, id).find(({ file }) => !this.unreadable.has(file))
  }

  setup(document: RollDocument, shelf = this.shelf(document.file)): Setup | undefined {
    return isMedia(document) ? resolveSetup(document, shelf, this.host.today()) : undefined
  }

  /** The parsed documents that a document's findings rest on: itself, the shop's own, and for a profile its bases, stocks and printers. */
  partsOf(document: RollDocument): readonly RollDocument[] {
    const parts: RollDocument[] = [document]
    this.walkNeeded(document, (facts) => {
      const found = this.document(facts.file)
      if (found) parts.push(found)
      return found
    })
    return parts
  }

  /** What may be asked of the other documents of a file's shop. What is asked for an asker makes it stale when the answer changes. */
  shelf(file: string, asker?: Asker): Shelf {
    const shop = this.shopOf(file)
    const ask = (question: Question): void => {
      this.noted?.add(question)
      if (asker) this.askers.ask(asker, question)
    }
    const at = (file: string): LiveDocument | undefined => {
      ask(`file ${file}`)
      return this.document(file)
    }
    const withId = (kind: DocumentKind, id: string): readonly Facts[] => {
      ask(`id ${kind} ${id}`)
      return shop.withId(kind, id)
    }
    const document = (kind: DocumentKind, id: string): LiveDocument | undefined => {
      for (const facts of withId(kind, id)) ask(`file ${facts.file}`)
      const facts = this.meant(shop, kind, id)
      return facts && at(facts.file)
    }
    return {
      all(kind) {
        ask(`all ${kind}`)
        return shop.all(kind)
      },
      withId,
      withSlot(printer, slot) {
        ask(`slot ${slot}`)
        return shop.withSlot(printer, slot, (base) => ask(`id media ${base}`))
      },
      measured: () => {
        ask('all media')
        ask('measured')
        const document = at(`${shop.folder}${SHOP_FILE}`)
        return document && this.measuredIn(shop, document)
      },
      document: (kind, id) => document(kind, id) as never,
      attached: (from, path) => {
        const uri = this.placeOf(from, path)
        if (uri === undefined) return OUTSIDE
        ask(`file ${uri}`)
        return this.attached.get(uri)
      },
      shop: () => at(`${shop.folder}${SHOP_FILE}`) as LiveDocument<'shop'> | undefined,
      complete: this.scans === 0,
      unlisted: [...this.unlisted.keys()].filter((place) => this.shopOf(place) === shop),
    }
  }

  /** The index of the shop a file belongs to. */
  private shopOf(file: string): ShopIndex {
    this.settle()
    return this.shopHolding(file)
  }

  private shopHolding(file: string): ShopIndex {
    return this.shopAt(this.folders.of(file))
  }

  /** The folder of the shop that a file belongs to, ending in '/'. */
  shopFolder(file: string): string {
    this.settle()
    return this.folders.of(file)
  }

  private shopAt(folder: string): ShopIndex {
    let shop = this.shops.get(folder)
    if (!shop) {
      shop = new ShopIndex(folder, (question) => {
        this.namesChanged++
        this.askers.changed(question)
      })
      this.shops.set(folder, shop)
    }
    return shop
  }

  /** The documents of all shops. */
  everything(): readonly Facts[] {
    this.settle()
    return [...this.shops.values()].flatMap((shop) => [...shop.everything()])
  }

  /** Gives every document to the shop it belongs to now: a rollbook.yaml that comes or goes parts shops or joins them. */
  private reshelve(): void {
    const all = [...this.shops.values()].flatMap((shop) => [...shop.everything()])
    this.shops.clear()
    for (const facts of all) this.shopHolding(facts.file).put(facts)
    this.askers.allChanged()
  }

  private put(facts: Facts): void {
    this.shopHolding(facts.file).put(facts)
    if (facts.kind !== 'shop' || this.folders.hasShop(folderOf(facts.file))) return
    this.folders.addShop(folderOf(facts.file))
    this.reshelve()
  }

  private drop(file: string): void {
    this.shopHolding(file).remove(file)
    if (kindOfFile(file) === 'shop' && this.folders.removeShop(folderOf(file))) this.reshelve()
  }

  /** Lets the index know of a closed file as the disk has it, and returns its text. One that is there and cannot be read stays known by its name. */
  private async indexFile(file: string, how?: 'listed'): Promise<string | undefined> {
    const kind = kindOfFile(file)
    if (!kind || this.open.has(file)) return undefined
    try {
      const text = await this.readNewest(file)
      if (!this.open.has(file)) this.put(readFacts(file, kind, text))
      return text
    } catch (error) {
      const gone = isGone(error)
      // A document that was never saved, or is deleted, is nobody's mistake when it is closed.
      this.host.log(gone ? 'info' : 'error', (error as Error).message)
      if (this.open.has(file)) return undefined
      if (how === 'listed' || (error instanceof CannotRead && !gone)) {
        this.unreadable.set(file, reasonOf(error))
        this.put({ file, kind, values: {} })
      } else this.drop(file)
      return undefined
    }
  }

  /** A file's text, read again where it changed meanwhile. */
  private async readNewest(file: string): Promise<string> {
    for (;;) {
      const before = this.changes.get(file)
      const text = await this.host.read(file)
      if (this.changes.get(file) === before) return text
    }
  }

  /** Lets a closed document's tree go before its time: for whoever walks over many. Its facts stay. */
  release(file: string): void {
    this.letGo(file)
  }

  private letGo(file: string): void {
    this.closed.delete(file)
    this.askers.changed(`own ${file}`)
  }

  /** What is asked for again makes room last. */
  private renew(file: string): void {
    const document = this.closed.get(file)
    if (!document) return
    this.closed.delete(file)
    this.closed.set(file, document)
  }

  private keep(file: string, document: LiveDocument): void {
    this.closed.set(file, document)
    if (this.closed.size > this.room) this.closed.delete(this.closed.keys().next().value!)
  }
}

/** Whether there is nothing where a file or folder should be. */
const isGone = (error: unknown): boolean => error instanceof CannotRead && error.gone

const reasonOf = (error: unknown): string => (error instanceof CannotRead ? error.reason : (error as Error).message)

function forgetBelow(root: string, places: Map<string, unknown>): void {
  for (const place of [...places.keys()]) if (place.startsWith(root)) places.delete(place)
}

/** The instruments of which a shop's document tells who rests on them. */
const withHistory = (document: RollDocument): readonly string[] =>
  document.kind === 'shop' ? instrumentsWithHistory((document as RollDocument<'shop'>).content) : []

const isMedia = (document: RollDocument): document is RollDocument<'media'> => document.kind === 'media'

async function inBatches<T>(items: readonly T[], size: number, work: (item: T) => Promise<unknown>): Promise<void> {
  for (let i = 0; i < items.length; i += size) await Promise.all(items.slice(i, i + size).map(work))
}

const pause = (milliseconds: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, milliseconds))
