// Runs the rules over one document. A rule that throws loses its own findings only: it is logged by its code and skipped (in tests it fails).
import { noteDate, withDate } from '../base/recorder.ts'
import type { Span } from '../base/span.ts'
import type { RollDocument } from '../model/document.ts'
import { keySpan, type Place, valueSpan } from '../model/field.ts'
import { retiredOf } from '../model/retired.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { RULES } from './generated/index.ts'
import type { Finding, ReportOptions, Rule, RuleContext, Severity } from './rule.ts'
import { type Acceptance, acceptancesOf, isNeverAccepted, isWhole, withAcceptances } from './support/acceptance.ts'
import { unusedReport } from './support/unused-acceptance.ts'
import { withShortNames } from './support/words.ts'

export interface RunInput {
  readonly document: RollDocument
  readonly setup: Setup | undefined
  readonly shelf: Shelf
  readonly today: string
  /** The shop's own severities by rule code. */
  readonly severities?: ReadonlyMap<string, Severity | 'ignore'>
  /** Run these rules only. */
  readonly only?: ReadonlySet<string>
  /** Throw instead of logging when a rule fails: for tests. */
  readonly strict?: boolean
  readonly onFailure?: (code: string, error: unknown) => void
}

/** What a rule reported, where in terms that move with the text. */
export interface Report {
  readonly at: Place | Span
  readonly message: string
  readonly options: ReportOptions
}

/** No more findings of one rule are published of a document: an editor has to take, show and keep each of them. The last one says how many more there are. */
const MAX_OF_ONE = 200

/** All findings of a document, in the order of the text. */
export function runRules(input: RunInput): readonly Finding[] {
  const evaluation = new Evaluation(input)
  return findingsOf(input, (rule) => evaluation.run(rule))
}

/** All findings, and the rules that asked for the day: of the others, each finding would be there on every day. */
export function runRulesOnce(input: RunInput): { readonly findings: readonly Finding[]; readonly dated: ReadonlySet<string> } {
  const dated = new Set<string>()
  const evaluation = new Evaluation(input)
  const findings = findingsOf(input, (rule) => {
    const one = withDate(() => evaluation.run(rule))
    if (one.dated) dated.add(rule.code)
    return one.value
  })
  return { findings, dated }
}

/** The same of reports that `reportsOf` gives, which may throw what a rule threw. */
export function findingsOf(input: RunInput, reportsOf: (rule: Rule) => readonly Report[]): readonly Finding[] {
  const findings: Finding[] = []
  const { text, root } = input.document.tree
  const acceptances = acceptancesOf({ text, root })
  // Whether a comment is of use is known when all that it could be about has been told.
  const only = input.only?.has(UNUSED) ? undefined : input.only
  for (const rule of rulesFor(input.document.kind)) {
    if (only && !only.has(rule.code)) continue
    const severity = severityOf(rule, input.severities)
    if (severity === 'ignore' || (needsSetup(rule) && !input.setup)) continue
    try {
      for (const report of reportsOf(rule)) findings.push(findingOf(report, rule.code, severity, input))
    } catch (error) {
      if (input.strict) throw error
      input.onFailure?.(rule.code, error)
    }
  }
  const told = acceptances.length > 0 ? accepting(findings, acceptances, input) : findings
  return told
    .filter(({ code }) => !input.only || input.only.has(code))
    .sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end || (a.code < b.code ? -1 : 1))
}

/** What a shop says of a rule, but for an error about heat, clearance, vapour or tension: that one stays. */
export const severityOf = (rule: Rule, severities: RunInput['severities']): Severity | 'ignore' =>
  isNeverAccepted(rule) ? rule.severity : (severities?.get(rule.code) ?? rule.severity)

const UNUSED = 'accept-unused'

function accepting(findings: readonly Finding[], acceptances: readonly Acceptance[], input: RunInput): readonly Finding[] {
  const used = new Set<Acceptance>()
  const ruleOf = (code: string): Rule | undefined => RULES.find((rule) => rule.code === code)
  const told = withAcceptances(findings, acceptances, ruleOf, input.today, used)
  // Of a danger it is told that nobody can accept it.
  const isAcceptable = (code: string): boolean => {
    const rule = ruleOf(code)
    return rule !== undefined && !isNeverAccepted(rule)
  }
  const severity = input.severities?.get(UNUSED) ?? ruleOf(UNUSED)!.severity
  if (severity === 'ignore') return told
  const unused = acceptances.filter(
    (one) => !used.has(one) && isWhole(one) && isAcceptable(one.code) && one.until! >= input.today,
  )
  return [...told, ...unused.map((one) => findingOf(unusedReport(one, input.document.text), UNUSED, severity, input))]
}

const CODES: readonly string[] = RULES.map((rule) => rule.code)

const DANGERS: readonly string[] = RULES.filter(isNeverAccepted).map((rule) => rule.code)

const byKind = new Map<DocumentKind, readonly Rule[]>()

function rulesFor(kind: DocumentKind): readonly Rule[] {
  let rules = byKind.get(kind)
  if (!rules) {
    rules = RULES.filter((rule) => rule.kinds.includes(kind))
    byKind.set(kind, rules)
  }
  return rules
}

/** Gives the rules what they are checked on, and takes what they report. One serves all rules of a document, in turn. */
export class Evaluation implements RuleContext {
  readonly document: RollDocument
  readonly setup: RuleContext['setup']
  readonly shelf: Shelf
  readonly codes = CODES
  readonly dangers = DANGERS
  private reports: Report[] = []
  private count = 0

  constructor(private readonly input: Pick<RunInput, 'document' | 'setup' | 'shelf' | 'today'>) {
    this.document = input.document
    this.setup = input.setup
    this.shelf = input.shelf
  }

  get today(): string {
    noteDate()
    return this.input.today
  }

  readonly report: RuleContext['report'] = (at, message, options = {}) => {
    if (++this.count > MAX_OF_ONE) return
    // What is no node does not move with the text: the rule rests on where everything stands.
    if (!isLive(at) || options.related?.some(({ span }) => !isLive(span))) void this.document.text
    this.reports.push({ at, message: withShortNames(typeof message === 'string' ? message : message()), options })
  }

  /** What one rule has to report. Throws what the rule throws. */
  run(rule: Rule): readonly Report[] {
    this.reports = []
    this.count = 0
    // Of what is out of use nothing falls due.
    if (rule.due && this.setup && retiredOf(this.setup)) return this.reports
    rule.check(this)
    const { reports } = this
    const more = this.count - MAX_OF_ONE
    if (more <= 0) return reports
    const last = reports.pop()!
    return [...reports, { ...last, message: `${last.message} And ${more} more of this kind.` }]
  }
}

function findingOf({ at, message, options }: Report, code: string, severity: Severity, { document, setup }: RunInput): Finding {
  const shown = 'node' in at ? placeIn(document, setup, at) : { span: at, related: undefined }
  const related = [...(options.related ?? []), ...(shown.related ?? [])].map((r) => ({
    ...r,
    span: fixed(r.span),
    message: withShortNames(r.message),
  }))
  return {
    code,
    severity,
    file: document.file,
    span: fixed(shown.span),
    message,
    ...options,
    ...(related.length && { related }),
  }
}

const isLive = (at: Place | Span): boolean => 'node' in at || 'anchor' in at

/** Where a live span is now. */
const fixed = ({ start, end }: Span): Span => ({ start, end })

/** A rule for profiles alone reasons over a setup; one for several kinds looks at documents and makes do without. */
const needsSetup = (rule: Rule): boolean => rule.kinds.length === 1 && rule.kinds[0] === 'media'

/** A value's span; its key's where the value is not there. */
const visibleSpan = (place: Place): Span => (place.node.end > place.node.start ? valueSpan(place) : keySpan(place))

/** Where a place shows in the checked document: itself, or the key that leads to the other file, with the place as related. */
function placeIn(
  document: RollDocument,
  setup: Setup | undefined,
  place: Place,
): { span: Span; related: ReportOptions['related'] } {
  if (place.file === document.file) return { span: visibleSpan(place), related: undefined }
  const related = [{ file: place.file, span: valueSpan(place), message: 'The value stands here.' }]
  const leading = setup && leadingPlace(setup, place.file)
  return { span: leading ? visibleSpan(leading) : { start: 0, end: 0 }, related }
}

function leadingPlace(setup: Setup, file: string): Place | undefined {
  const { own, profile } = setup
  const local = (place: Place | undefined): Place | undefined => (place?.file === setup.file ? place : own.base?.place)
  if (file === setup.stock?.$.file) return local(profile.stock?.place)
  if (file === setup.printer?.$.file) return local(profile.printer?.place)
  return setup.bases.some((b) => b.file === file) ? own.base?.place : own.profile?.place
}
