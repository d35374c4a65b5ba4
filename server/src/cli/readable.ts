// Findings with lines and columns in place of offsets, and their fixes worked out: what both reports of `rollbook check` are made of.
import { LineIndex } from '../base/line-index.ts'
import type { Span } from '../base/span.ts'
import { editsOf, withoutStops } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import type { Finding, Fix, Severity } from '../rules/rule.ts'
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
  /** Those that can be applied. */
  readonly fixes: readonly ReadableFix[]
  readonly related: readonly { readonly file: string; readonly range: PointRange; readonly message: string }[]
}

export class FindingReader {
  private readonly lines = new WeakMap<RollDocument, LineIndex>()

  constructor(private readonly bench: Bench) {}

  /** The findings of a document that is loaded, with all that it needs. */
  async read(file: string): Promise<readonly ReadableFinding[]> {
    const out: ReadableFinding[] = []
    for (const finding of this.bench.analysis.findings(file)) out.push(await this.readable(finding))
    return out
  }

  private async readable(finding: Finding): Promise<ReadableFinding> {
    const { code, severity, message, file } = finding
    const fixes = (finding.fixes?.() ?? []).filter(
      (fix) => fix !== undefined && fix.refused === undefined && fix.edits.length > 0,
    )
    return {
      file: this.bench.shown(file),
      range: await this.range(file, finding.span),
      severity,
      code,
      message,
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
