// Runs the rules over one document. A rule that throws loses its own findings only: it is logged by its code and skipped (in tests it fails).
import type { Span } from '../base/span.ts'
import type { RollDocument } from '../model/document.ts'
import { keySpan, type Place, valueSpan } from '../model/field.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { RULES } from './generated/index.ts'
import type { Finding, ReportOptions, Rule, RuleContext, Severity } from './rule.ts'
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

/** No more findings of one rule are told of a document: an editor has to take, show and keep each of them. The last one says how many more there are. */
const MOST_OF_ONE = 200

/** All findings of a document, in the order of the text. */
export function runRules(input: RunInput): readonly Finding[] {
  const findings: Finding[] = []
  for (const rule of rulesFor(input.document.kind)) {
    if (input.only && !input.only.has(rule.code)) continue
    const severity = input.severities?.get(rule.code) ?? rule.severity
    if (severity === 'ignore') continue
    runRule(rule, severity, input, findings)
  }
  return findings.sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end || (a.code < b.code ? -1 : 1))
}

const CODES: readonly string[] = RULES.map((rule) => rule.code)

const byKind = new Map<DocumentKind, readonly Rule[]>()

function rulesFor(kind: DocumentKind): readonly Rule[] {
  let rules = byKind.get(kind)
  if (!rules) {
    rules = RULES.filter((rule) => rule.kinds.includes(kind))
    byKind.set(kind, rules)
  }
  return rules
}

function runRule(rule: Rule, severity: Severity, input: RunInput, into: Finding[]): void {
  const { document, setup, shelf, today } = input
  if (needsSetup(rule) && !setup) return
  let told = 0
  const context: RuleContext = {
    document,
    setup,
    shelf,
    today,
    codes: CODES,
    report(at, message, options = {}) {
      if (++told > MOST_OF_ONE) return
      const shown = 'node' in at ? placeIn(document, setup, at) : { span: at, related: undefined }
      const related = [...(options.related ?? []), ...(shown.related ?? [])].map((r) => ({
        ...r,
        message: withShortNames(r.message),
      }))
      into.push({
        code: rule.code,
        severity,
        file: document.file,
        span: shown.span,
        message: withShortNames(typeof message === 'string' ? message : message()),
        ...options,
        ...(related.length && { related }),
      })
    },
  }
  try {
    rule.check(context)
  } catch (error) {
    if (input.strict) throw error
    input.onFailure?.(rule.code, error)
  }
  if (told <= MOST_OF_ONE) return
  const last = into.pop()!
  into.push({ ...last, message: `${last.message} And ${told - MOST_OF_ONE} more of this kind.` })
}

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
