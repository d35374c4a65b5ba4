// A profile with its bases, stock, printer and shop, and the shelf they lie on, read through a recorder: the same interfaces as `resolveSetup`
// gives, live from one version of the documents to the next, with every read noted.
import { equalValues } from '../base/equal.ts'
import { Derived, Input, RUNTIME, type Runtime, unrecorded } from '../base/recorder.ts'
import { type DocumentKind, type MapSchema, schemaOf } from '../schema/schema.ts'
import type { SyntaxTree } from '../syntax/parse.ts'
import { type Attached, type ColourFiles, colourFilesOf } from './attached.ts'
import type { Models, PlacedIssue, RollDocument } from './document.ts'
import type { Facts } from './facts.ts'
import type { Section } from './field.ts'
import type { MediaDocument, Mode, PrinterDocument, StockDocument } from './generated/documents.ts'
import { Material } from './material.ts'
import type { Measured } from './measured.ts'
import type { BadValue, Read } from './read.ts'
import { type BaseProblem, type Setup, unsettledOf } from './setup.ts'
import type { Shelf } from './shelf.ts'
import { resolveShop, type Shop } from './shop.ts'
import { sameItems, sectionView } from './views.ts'

/** What the views show; another at each revision. */
export interface Sources {
  readonly setup: Setup | undefined
  readonly shelf: Shelf
  readonly today: string
}

/** The recorded views over one document and all that it rests on. */
export class Recorded {
  readonly document: RollDocument
  readonly shelf: Shelf
  /** For a profile. Where the text is none, nothing of it is asked for. */
  readonly setup: Setup
  private readonly documents = new WeakMap<RollDocument, RollDocument>()
  private readonly now: Input<string>

  constructor(
    readonly runtime: Runtime,
    document: RollDocument,
    private sources: Sources,
  ) {
    this.document = this.of(document)
    this.shelf = new RecordedShelf(this, () => this.sources.shelf)
    this.setup = new RecordedSetup(this, document.file, () => this.sources.setup)
    this.now = new Input(runtime, 'today', () => this.sources.today)
  }

  get today(): string {
    return this.now.get()
  }

  advance(sources: Sources): void {
    this.sources = sources
    this.runtime.advance()
  }

  of<K extends DocumentKind>(document: RollDocument<K>): RollDocument<K> {
    let view = this.documents.get(document)
    if (!view) {
      view = new RecordedDocument(this.runtime, document)
      this.documents.set(document, view)
    }
    return view as RollDocument<K>
  }
}

class RecordedDocument implements RollDocument {
  readonly [RUNTIME]: Runtime
  readonly file: string
  readonly kind: DocumentKind
  readonly schema: MapSchema
  readonly baseName: string
  private readonly written: Input<string>
  private readonly model: Input<Models[DocumentKind] | undefined>
  private readonly bad: Input<readonly BadValue[]>
  private readonly open: Input<boolean>

  constructor(
    runtime: Runtime,
    private readonly raw: RollDocument,
  ) {
    this[RUNTIME] = runtime
    this.file = raw.file
    this.kind = raw.kind
    this.schema = raw.schema
    this.baseName = raw.baseName
    const view = sectionView<Section>(runtime, `${raw.kind} `, raw.schema, () => raw.content as Section | undefined)
    this.written = new Input(runtime, `${raw.kind} text`, () => raw.text)
    this.model = new Input(runtime, raw.kind, () => (raw.content ? (view as Models[DocumentKind]) : undefined))
    this.open = new Input(runtime, `${raw.kind} merge`, () => raw.unsettled)
    this.bad = new Input(runtime, `${raw.kind} mistakes`, () => raw.read().bad, sameItems)
  }

  get text(): string {
    return this.written.get()
  }

  get tree(): SyntaxTree {
    this.written.get()
    return this.raw.tree
  }

  get content(): Models[DocumentKind] | undefined {
    return this.model.get()
  }

  get unsettled(): boolean {
    return this.open.get()
  }

  get aliasesExceeded(): boolean {
    this.written.get()
    return this.raw.aliasesExceeded
  }

  read(): Read<Models[DocumentKind]> {
    return { value: this.model.get(), bad: this.bad.get() }
  }

  structure(): readonly PlacedIssue[] {
    this.written.get()
    return this.raw.structure()
  }
}

/** Each question is asked once a revision, and noted with its answer. */
class RecordedShelf implements Shelf {
  private readonly questions = new Map<string, Input<unknown>>()

  constructor(
    private readonly recorded: Recorded,
    private readonly now: () => Shelf,
  ) {}

  private ask<T>(question: string, fetch: (shelf: Shelf) => T, same?: (before: T, now: T) => boolean): T {
    let input = this.questions.get(question) as Input<T> | undefined
    if (!input) {
      input = new Input(this.recorded.runtime, question, () => fetch(this.now()), same)
      this.questions.set(question, input as Input<unknown>)
    }
    return input.get()
  }

  all(kind: DocumentKind): Iterable<Facts> {
    return this.ask(`all of kind ${kind}`, (shelf) => [...shelf.all(kind)], equalValues)
  }

  withId(kind: DocumentKind, id: string): readonly Facts[] {
    return this.ask(`${kind} named ${id}`, (shelf) => shelf.withId(kind, id), equalValues)
  }

  document<K extends DocumentKind>(kind: K, id: string): RollDocument<K> | undefined {
    const found = this.ask(`document ${kind} ${id}`, (shelf) => shelf.document(kind, id))
    return found && this.recorded.of(found)
  }

  shop(): RollDocument<'shop'> | undefined {
    const found = this.ask('document shop', (shelf) => shelf.shop())
    return found && this.recorded.of(found)
  }

  withSlot(printer: string, slot: string): readonly Facts[] {
    return this.ask(`slot ${slot} of ${printer}`, (shelf) => shelf.withSlot(printer, slot), equalValues)
  }

  measured(): readonly Measured[] | undefined {
    return this.ask('what instruments measured', (shelf) => shelf.measured(), equalValues)
  }

  attached(from: string, path: string): Attached | undefined {
    return this.ask(`file ${path} of ${from}`, (shelf) => shelf.attached(from, path))
  }

  get complete(): boolean {
    return this.ask('whether all is read', (shelf) => shelf.complete)
  }

  get unlisted(): readonly string[] {
    return this.ask('folders not listed', (shelf) => shelf.unlisted, sameItems)
  }
}

class RecordedSetup implements Setup {
  readonly [RUNTIME]: Runtime
  readonly file: string
  readonly profile: MediaDocument
  readonly own: MediaDocument
  private readonly chain: Derived<readonly RollDocument<'media'>[]>
  private readonly problem: Input<BaseProblem | undefined>
  private readonly stockNamed: Derived<StockDocument | undefined>
  private readonly printerNamed: Derived<PrinterDocument | undefined>
  private readonly modeNamed: Derived<Mode | undefined>
  private readonly shopThere: Derived<Shop>
  private readonly materialThere: Derived<Material>
  private readonly files: Derived<ColourFiles>
  private readonly open: Derived<readonly string[]>

  constructor(
    private readonly recorded: Recorded,
    file: string,
    now: () => Setup | undefined,
  ) {
    const { runtime, shelf } = recorded
    this[RUNTIME] = runtime
    this.file = file
    const schema = schemaOf('media')
    this.profile = sectionView(runtime, 'profile ', schema, () => now()?.profile)
    this.own = sectionView(runtime, 'own ', schema, () => now()?.own)
    const chain = new Input(runtime, 'chain of bases', () => now()?.bases ?? [], sameItems)
    this.chain = new Derived(
      runtime,
      'bases',
      (): readonly RollDocument<'media'>[] => chain.get().map((base) => recorded.of(base)),
      sameItems,
    )
    this.problem = new Input(runtime, 'end of the chain of bases', () => now()?.baseProblem, equalValues)
    const named = <K extends 'stock' | 'printer'>(kind: K) =>
      new Derived(
        runtime,
        kind,
        () => {
          const field = this.profile[kind]
          return field && shelf.document(kind, field.value)?.content
        },
        Object.is,
      )
    this.stockNamed = named('stock')
    this.printerNamed = named('printer')
    this.modeNamed = new Derived(
      runtime,
      'mode',
      () => {
        const { mode } = this.profile
        return mode && this.printer?.modes?.entries.get(mode.value)
      },
      Object.is,
    )
    this.shopThere = kept(runtime, 'shop', () => shelf.shop()?.content, resolveShop)
    this.materialThere = kept(
      runtime,
      'material',
      () => this.stock,
      (stock) => new Material(stock),
    )
    this.open = new Derived(
      runtime,
      'open merges',
      () => {
        const { stock, printer } = this.profile
        const named = [stock && shelf.document('stock', stock.value), printer && shelf.document('printer', printer.value)]
        return unsettledOf([recorded.document, ...this.bases, ...named, shelf.shop()])
      },
      sameItems,
    )
    this.files = new Derived(runtime, 'colour files', () =>
      colourFilesOf(this.profile, ({ value, place }) => shelf.attached(place.file, String(value))),
    )
  }

  get bases(): readonly RollDocument<'media'>[] {
    return this.chain.get()
  }

  get baseProblem(): BaseProblem | undefined {
    return this.problem.get()
  }

  get stock(): StockDocument | undefined {
    return this.stockNamed.get()
  }

  get printer(): PrinterDocument | undefined {
    return this.printerNamed.get()
  }

  get mode(): Mode | undefined {
    return this.modeNamed.get()
  }

  get shop(): Shop {
    return this.shopThere.get()
  }

  get material(): Material {
    return this.materialThere.get()
  }

  get colourFiles(): ColourFiles {
    return this.files.get()
  }

  get unsettled(): readonly string[] {
    return this.open.get()
  }

  get today(): string {
    return this.recorded.today
  }
}

/** What is made of a view is the same as long as the view is: it reads when it is asked. */
function kept<A, B>(runtime: Runtime, name: string, of: () => A, make: (of: A) => B): Derived<B> {
  let last: { readonly of: A; readonly made: B } | undefined
  return new Derived(
    runtime,
    name,
    () => {
      const now = of()
      if (last?.of !== now || !last) last = { of: now, made: unrecorded(() => make(now)) }
      return last.made
    },
    Object.is,
  )
}
