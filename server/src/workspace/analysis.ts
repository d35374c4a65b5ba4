// The facade: one method a feature, the same for the language server and the command line. Everything stands on the newest texts, and is synchronous
// but for what reads closed documents (references, rename); what is costly is kept until one of the documents it rests on changes.
import type { Gain } from '../areas/head.ts'
import { shareUndated } from '../base/recorder.ts'
import type { Span } from '../base/span.ts'
import type { TextEdit } from '../base/text-edit.ts'
import { lastPart } from '../base/uri.ts'
import { actions } from '../features/actions.ts'
import { complete } from '../features/completion.ts'
import type { Action, Completion, FeatureContext, Hint, Hover, Location, OutlineItem } from '../features/context.ts'
import { topicsAt } from '../features/explain-here.ts'
import { type FoundDocument, findDocuments } from '../features/find-documents.ts'
import { fixAll } from '../features/fix-all.ts'
import { type Fold, folds } from '../features/folding.ts'
import { format } from '../features/format.ts'
import { type Highlight, highlights } from '../features/highlights.ts'
import { hints } from '../features/hints.ts'
import { hover } from '../features/hover.ts'
import { gainIn, type Lens, lenses } from '../features/lenses.ts'
import { type Link, links } from '../features/links.ts'
import { definition } from '../features/navigation.ts'
import { outline } from '../features/outline.ts'
import { type Renaming, renameAll, type Subject, subjectAt, unnameable } from '../features/rename.ts'
import { selections } from '../features/selection.ts'
import { type Token, tokens } from '../features/tokens.ts'
import type { RollDocument } from '../model/document.ts'
import type { ShopDocument } from '../model/generated/documents.ts'
import { calledLevelsByNode } from '../model/level-names.ts'
import type { Sources } from '../model/recorded-setup.ts'
import { resolveSetup, type Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import { type ShopCell, shopCell } from '../report/fleet/shop-table.ts'
import { type DrawnPage, drawnPage } from '../report/pictures.ts'
import { RULES } from '../rules/generated/index.ts'
import type { Finding, Severity } from '../rules/rule.ts'
import { type RunInput, runRules, runRulesOnce } from '../rules/run.ts'
import { fingerprintOf } from '../rules/support/fingerprint.ts'
import { newestDay } from '../rules/support/happened.ts'
import { Asker } from './askers.ts'
import { UNSETTLED } from './fleet.ts'
import { Judged } from './judged.ts'
import { RecordedRun } from './recorded-run.ts'
import { usesOf } from './uses.ts'
import type { Workspace } from './workspace.ts'

interface Kept {
  readonly context: Judged
  /** What the context rests on; stale as soon as any of it may have changed. */
  readonly asker: Asker
}

/** Takes a rule that threw: what it would have found in a document is not known. */
export type RuleFailure = (file: string, code: string, error: unknown) => void

export class Analysis {
  private readonly kept = new WeakMap<RollDocument, Kept>()
  private readonly runs = new WeakMap<RollDocument, RecordedRun>()

  constructor(
    readonly workspace: Workspace,
    private readonly strict = false,
    private readonly ruleFailed: RuleFailure = (file, code, error) =>
      workspace.host.log('error', `${lastPart(file)}, rule ${code}: ${(error as Error).stack ?? error}`),
    /** Whether documents are asked about again and again as they change; who asks once does not pay for a record. */
    private readonly asked: 'once' | 'again' = 'again',
  ) {}

  findings(file: string): readonly Finding[] {
    return this.context(file)?.findings() ?? []
  }

  /** What makes a finding of a document the same in another version; what it names beside the document is loaded. */
  fingerprint(finding: Finding, document: RollDocument): string {
    const levels = calledLevelsByNode(this.context(document.file)?.setup?.own)
    return fingerprintOf(finding, document, (file) => this.workspace.document(file), levels)
  }

  /** What may hurt somebody or a machine, by the rules' own severities: no shop makes it less. */
  dangers(file: string): readonly Finding[] {
    return (
      this.with(file, ({ document, setup, shelf }) => runRules({ ...this.input(document, setup, shelf), only: HARMFUL })) ?? []
    )
  }

  /**
   * Those of a document's findings that the days alone have brought: by their rule, or because they were not there on the newest day that the
   * documents tell of. A feed that rests on four checks rests on two of them a month later, and may ask for another correction.
   */
  due(file: string): ReadonlySet<Finding> {
    const context = this.context(file)
    if (!context) return new Set()
    const found = context.findings()
    const due = new Set(found.filter(({ code, lapsed }) => DUE.has(code) || lapsed))
    const { document, setup, shelf, today } = context
    const { dated } = context
    const others = found.filter((finding) => !due.has(finding) && (dated?.has(finding.code) ?? true))
    const day = setup && newestDay(this.workspace.partsOf(document), today)
    if (others.length === 0 || day === undefined || day === today) return due
    const only = new Set(others.map(({ code }) => code))
    const before = resolveSetup(document as RollDocument<'media'>, shelf, day)
    if (setup && before) shareUndated(setup, before)
    const then = runRules({ ...this.input(document, before, shelf), today: day, only })
    const there = new Set(then.map(placeOf))
    for (const finding of others) if (!there.has(placeOf(finding))) due.add(finding)
    return due
  }

  /** The findings of a document that is loaded, with all that it needs, and who asked for them: nothing else is kept of it. Empty for one that is not. */
  once(
    file: string,
    withCell = false,
  ): { readonly findings: readonly Finding[]; readonly cell: ShopCell | undefined; readonly by: Asker } {
    const { askers } = this.workspace
    const document = this.workspace.document(file)
    if (!document) return { findings: [], cell: undefined, by: askers.restingOn([`text ${file}`]) }
    const asker = new Asker()
    askers.ask(asker, `own ${file}`)
    const shelf = this.workspace.shelf(file, asker)
    const setup = this.workspace.setup(document, shelf)
    const input = { ...this.input(document, setup, shelf), severities: severitiesOf(shopFor(document, shelf)) }
    const { findings } = runRulesOnce(input)
    const cell = withCell && setup ? cellOf(document, setup) : undefined
    const by = askers.restingOn(asker.asked)
    askers.leave(asker)
    return { findings, cell, by }
  }

  /** What the shop's table says of a profile; undefined for what is none. */
  cell(file: string): ShopCell | undefined {
    return this.with(file, ({ document, setup }) => setup && cellOf(document, setup))
  }

  hover(file: string, offset: number): Hover | undefined {
    return this.with(file, (context) => hover(context, offset))
  }

  hints(file: string, span: Span): readonly Hint[] {
    return this.with(file, (context) => hints(context, span)) ?? []
  }

  completions(file: string, offset: number): readonly Completion[] {
    return this.with(file, (context) => complete(context, offset)) ?? []
  }

  actions(file: string, span: Span): readonly Action[] {
    return this.with(file, (context) => actions(context, span)) ?? []
  }

  /** All that can be mended without asking, in one action. */
  fixAll(file: string): Action | undefined {
    return this.with(file, fixAll)
  }

  outline(file: string): readonly OutlineItem[] {
    return this.with(file, outline) ?? []
  }

  definition(file: string, offset: number): readonly Location[] {
    return this.with(file, (context) => definition(context, offset)) ?? []
  }

  /** Every place in the shop that is called by the name at an offset, and on demand the one that gives it. Closed documents are read for it. */
  async references(file: string, offset: number, withGivers = false): Promise<readonly Location[]> {
    const subject = this.with(file, (context) => subjectAt(context, offset))
    if (!subject) return []
    const { all } = await usesOf(this.workspace, file, subject)
    return all
      .filter(({ mention }) => withGivers || mention.role === 'calls')
      .map(({ document, mention: { node } }) => ({ file: document.file, span: { start: node.start, end: node.end } }))
  }

  /** The name at an offset, where it is one that can be changed, or why it cannot. */
  nameAt(file: string, offset: number): (Subject & { readonly refused: string | undefined }) | undefined {
    return this.with(file, (context) => {
      const subject = subjectAt(context, offset)
      return subject && { ...subject, refused: unnameable(context, subject) }
    })
  }

  /** What is to be edited, all over the shop, to give the thing that is named at an offset another name. Closed documents are read for it. */
  async rename(file: string, offset: number, name: string): Promise<Renaming | undefined> {
    const subject = this.nameAt(file, offset)
    if (!subject) return undefined
    if (subject.refused !== undefined) return { ok: false, refused: subject.refused }
    const uses = await usesOf(this.workspace, file, subject)
    return this.with(file, (context) => renameAll(context, subject, name, uses))
  }

  /** Documents of all shops by a few letters of their id or title. */
  findDocuments(query: string): readonly FoundDocument[] {
    return findDocuments(this.workspace.everything(), query)
  }

  /** The pictures of a profile, for a panel beside its text; undefined for any other document. */
  picture(file: string): DrawnPage | undefined {
    return this.with(file, ({ setup }) => setup && drawnPage(setup))
  }

  highlights(file: string, offset: number): readonly Highlight[] {
    return this.with(file, (context) => highlights(context, offset)) ?? []
  }

  /** Around an offset, the smallest first. */
  selections(file: string, offset: number): readonly Span[] {
    return this.with(file, (context) => selections(context, offset)) ?? []
  }

  /** The edits that put a document, or a stretch of it, in order; undefined where its text has mistakes. */
  format(file: string, within?: Span): readonly TextEdit[] | undefined {
    return this.with(file, ({ document }) => format(document, within))
  }

  tokens(file: string, within?: Span): readonly Token[] {
    return this.with(file, (context) => tokens(context, within)) ?? []
  }

  /** No counts while documents are still being read, or where some cannot be: a count that is too low would be taken for one. */
  lenses(file: string): readonly Lens[] {
    const { isScanning } = this.workspace
    if (this.workspace.document(file)?.kind === 'media') return this.with(file, lenses) ?? []
    return (!isScanning && this.workspace.unread(file).length === 0 && this.with(file, lenses)) || []
  }

  /** What more evidence would gain, of the section that a lens stands above. */
  gain(file: string, section: string): Gain | undefined {
    return this.with(file, ({ setup }) => gainIn(setup, section))
  }

  folds(file: string): readonly Fold[] {
    return this.with(file, folds) ?? []
  }

  links(file: string): readonly Link[] {
    return this.with(file, links) ?? []
  }

  topicsAt(file: string, offset: number): readonly string[] {
    return this.with(file, (context) => topicsAt(context, offset)) ?? []
  }

  /** The context of a document's features; undefined for a file that is neither open nor loaded. */
  context(file: string): Judged | undefined {
    const document = this.workspace.document(file)
    if (!document) return undefined
    const before = this.keptOf(document)
    if (before) return before.context
    const { askers } = this.workspace
    const asker = new Asker()
    const replaced = this.kept.get(document)
    if (replaced) askers.leave(replaced.asker)
    askers.ask(asker, `own ${file}`)
    const context = this.make(document, asker)
    this.kept.set(document, { asker, context })
    return context
  }

  /** What was last made of a document, as long as it is what would be made now. */
  current(file: string): FeatureContext | undefined {
    const document = this.workspace.document(file)
    return document && this.keptOf(document)?.context
  }

  private keptOf(document: RollDocument): Kept | undefined {
    this.workspace.settle()
    const kept = this.kept.get(document)
    return kept && !kept.asker.stale && kept.context.today === this.workspace.host.today() ? kept : undefined
  }

  private make(document: RollDocument, asker: Asker): Judged {
    const { workspace } = this
    const asking = workspace.shelf(document.file, asker)
    return new Judged(document, workspace.shelf(document.file), workspace.host.today(), {
      sources: () => ({ setup: workspace.setup(document, asking), shelf: asking, today: workspace.host.today() }),
      input: ({ setup }) => ({ ...this.input(document, setup, asking), severities: severitiesOf(shopFor(document, asking)) }),
      run: (sources) => (this.asked === 'again' ? this.runOf(document, sources) : undefined),
    })
  }

  /** Lets go of what is kept of a document that nobody looks at: its text stays, and who rests on what. */
  rest(file: string): void {
    const document = this.workspace.rest(file)
    if (!document) return
    this.kept.get(document)?.context.rest()
    this.runs.delete(document)
  }

  /** The record of a document, at these sources. */
  private runOf(document: RollDocument, sources: Sources): RecordedRun {
    let run = this.runs.get(document)
    if (!run) {
      run = new RecordedRun(document, sources)
      this.runs.set(document, run)
    }
    run.advance(sources)
    return run
  }

  private input(document: RollDocument, setup: Setup | undefined, shelf: Shelf): RunInput {
    return {
      document,
      setup,
      shelf,
      today: this.workspace.host.today(),
      strict: this.strict,
      onFailure: (code, error) => this.ruleFailed(document.file, code, error),
    }
  }

  private with<T>(file: string, work: (context: FeatureContext) => T): T | undefined {
    const context = this.context(file)
    return context && work(context)
  }
}

const cellOf = ({ tree }: RollDocument, setup: Setup): ShopCell =>
  shopCell(setup, tree.conflicts.length > 0 ? UNSETTLED : undefined)

/** The rules whose findings come with the days alone. */
const DUE: ReadonlySet<string> = new Set(RULES.filter((rule) => rule.due).map((rule) => rule.code))

const HARMFUL: ReadonlySet<string> = new Set(RULES.filter(({ risk }) => risk === 'harm').map(({ code }) => code))

/** A finding within one text: its words may tell of days. */
const placeOf = ({ code, span }: Finding): string => `${code} ${span.start} ${span.end}`

/** How strictly a shop takes its rules. */
export const severitiesOf = (shop: ShopDocument | undefined): ReadonlyMap<string, Severity | 'ignore'> =>
  new Map([...(shop?.rules?.entries ?? [])].map(([code, severity]) => [code, severity.value as Severity | 'ignore']))

const shopFor = (document: RollDocument, shelf: Shelf): ShopDocument | undefined =>
  document.kind === 'shop' ? (document as RollDocument<'shop'>).content : shelf.shop()?.content
