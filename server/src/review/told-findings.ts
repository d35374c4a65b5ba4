// The findings that begin, end and stay with a change, known by their fingerprints: never by wording, line or day.
import { LineIndex } from '../base/line-index.ts'
import type { RollDocument } from '../model/document.ts'
import { RULES } from '../rules/generated/index.ts'
import type { Analysis } from '../workspace/analysis.ts'
import type { DocumentRef, ToldFinding } from './change-set.ts'

const BY_CODE = new Map(RULES.map((rule) => [rule.code, rule]))

type Found = Omit<ToldFinding, 'course'>

/** Of one document that is loaded in a version; none where it is not there. `shown` is its path. */
export async function findingsIn(
  analysis: Analysis,
  document: RollDocument | undefined,
  ref: DocumentRef,
  shown: string,
): Promise<readonly Found[]> {
  if (!document) return []
  const { workspace } = analysis
  const lines = new LineIndex(document.text)
  const out: Found[] = []
  for (const finding of analysis.findings(document.file)) {
    for (const { file } of finding.related ?? []) await workspace.load(file)
    const { code, severity, message, span, accepted } = finding
    out.push({
      document: ref,
      file: shown,
      line: lines.range(span).start.line + 1,
      code,
      severity,
      level: BY_CODE.get(code)?.risk ?? 'record',
      due: BY_CODE.get(code)?.due === true,
      message,
      ...(accepted && { accepted }),
      fingerprint: analysis.fingerprint(finding, document),
    })
  }
  return out
}

/** Of equal ones as many begin or end as one version has more than the other. */
export function courseOf(before: readonly Found[], after: readonly Found[]): readonly ToldFinding[] {
  const left = new Map<string, Found[]>()
  for (const one of before) left.set(one.fingerprint, [...(left.get(one.fingerprint) ?? []), one])
  const now = after.map((one): ToldFinding => {
    const was = left.get(one.fingerprint)?.shift()
    return { ...one, course: was && (one.accepted || !was.accepted) ? 'stays' : 'begins' }
  })
  return [...now, ...[...left.values()].flat().map((one): ToldFinding => ({ ...one, course: 'ends' }))]
}
