// Findings with lines and columns in place of offsets, and their fixes worked out: what every report of `rollbook check` is made of.
import { LineIndex } from '../base/line-index.ts'
import type { Span } from '../base/span.ts'
import { editsOf, withoutStops } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import { RULES } from '../rules/generated/index.ts'
import type { Finding, Fix, Risk, Severity } from '../rules/rule.ts'
import type { Bench } from './bench.ts'

/** Both from 1; a column counts UTF-16 code units, as editors do. */
export interface Point {
  readonly line: number
  readonly column: number
}

export interface PointRange {
  readonly start: Point
  readonly end: Point
}

export interface ReadableFix {
  readonly title: string
  /** The file the edits belong to, where it is not the finding's own. */
  readonly file?: string
  readonly preferred?: true
  readonly edits: readonly (PointRange & { readonly newText: string })[]
}

export interface ReadableFinding {
  readonly file: string
  readonly range: PointRange
  readonly severity: Severity
  readonly code: string
  readonly message: string
  /** What it may cost; not given where all that suffers is the record. */
  readonly risk?: Risk
  /** The days alone have brought it; nobody's change did. */
  readonly due?: true
  /** The same for the same finding in another version of the document; once all are told, no two of a run are equal. */
  readonly fingerprint: string
  /** Somebody has accepted it, in the document, until a day: it fails nothing. */
  readonly accepted?: { readonly until: string; readonly reason: string }
  /** Where a revision is compared with: whether it has come since. */
  readonly new?: boolean
  /** Those that can be applied. */
  readonly fixes: readonly ReadableFix[]
  readonly related: readonly { readonly file: string; readonly range: PointRange; readonly message: string }[]
}

const RISKS = new Map(RULES.map(({ code, risk }) => [code, risk]))

export class FindingReader {
  private readonly lines = new WeakMap<RollDocument, LineIndex>()

  constructor(private readonly bench: Bench) {}

  /** The findings of a document that is loaded, with all that it needs, their fingerprints not yet told from their equals. */
  async read(file: string): Promise<readonly ReadableFinding[]> {
    const { workspace, analysis } = this.bench
    const document = workspace.document(file)
    if (!document) throw new Error('what was read of it was let go before it was judged')
    const out: ReadableFinding[] = []
    const due = analysis.due(file)
    for (const finding of analysis.findings(file)) {
      const readable = await this.readable(finding)
      // What a finding names beside its own document is in memory only now.
      const fingerprint = analysis.fingerprint(finding, document)
      out.push({ ...readable, ...(due.has(finding) && { due: true as const }), fingerprint })
    }
    return out
  }

  private async readable(finding: Finding): Promise<Omit<ReadableFinding, 'fingerprint'>> {
    const { code, severity, message, file, accepted } = finding
    const risk = RISKS.get(code)
    const fixes = (finding.fixes?.() ?? []).filter(
      (fix) => fix !== undefined && fix.refused === undefined && fix.edits.length > 0,
    )
    return {
      file: this.bench.shown(file),
      range: await this.range(file, finding.span),
      severity,
      code,
      message,
      ...(risk && { risk }),
      ...(accepted && { accepted }),
      fixes: await Promise.all(fixes.map((fix) => this.fix(fix!, file))),
      related: await Promise.all(
        (finding.related ?? []).map(async (r) => ({
          file: this.bench.shown(r.file),
          range: await this.range(r.file, r.span),
          message: r.message,
        })),
      ),
    }
  }

  private async fix(fix: Fix, own: string): Promise<ReadableFix> {
    const file = fix.file ?? own
    const text = (await this.bench.workspace.load(file))?.text ?? ''
    const edits = editsOf(text, fix.edits).map(async (edit) => ({
      ...(await this.range(file, edit)),
      newText: fix.snippet ? withoutStops(edit.newText) : edit.newText,
    }))
    return {
      title: fix.title,
      ...(file !== own && { file: this.bench.shown(file) }),
      ...(fix.preferred && { preferred: true as const }),
      edits: await Promise.all(edits),
    }
  }

  /** A document that is no longer, or not yet, in memory is read for it. */
  private async range(file: string, span: Span): Promise<PointRange> {
    const document = await this.bench.workspace.load(file)
    if (!document) return { start: { line: 1, column: 1 }, end: { line: 1, column: 1 } }
    let lines = this.lines.get(document)
    if (!lines) {
      lines = new LineIndex(document.text)
      this.lines.set(document, lines)
    }
    const { start, end } = lines.range(span)
    return {
      start: { line: start.line + 1, column: start.character + 1 },
      end: { line: end.line + 1, column: end.character + 1 },
    }
  }
}
