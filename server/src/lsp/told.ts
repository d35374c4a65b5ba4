// A document's findings as a client takes them, with the mark by which they are known again: equal marks, equal findings.
import type { Diagnostic } from 'vscode-languageserver'
import { mark } from '../base/digest.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Finding } from '../rules/rule.ts'
import type { Session } from './session.ts'
import { toDiagnostic } from './to-proto.ts'

export interface Told {
  readonly items: readonly Diagnostic[]
  readonly mark: string
}

/** Told of a document that has nothing to be told. */
export const NOTHING: Told = { items: [], mark: mark('[]') }

/** Reads the closed documents that findings point into: places there have lines and columns only once they are read. Undefined where all are. */
export function readPlaces({ workspace }: Session, findings: readonly Finding[]): Promise<unknown> | undefined {
  const closed = findings.flatMap((f) => f.related?.map((r) => r.file) ?? []).filter((file) => !workspace.document(file))
  return closed.length > 0 ? Promise.all(closed.map((file) => workspace.load(file))) : undefined
}

/** Findings whose places are read. */
export function toldOf(findings: readonly Finding[], { papers, able }: Session): Told {
  if (findings.length === 0) return NOTHING
  const items = findings.map((finding) => toDiagnostic(finding, papers, able))
  return { items, mark: mark(JSON.stringify(items)) }
}

/** What is told of a document's newest text, and of what it was judged with; undefined for one that is neither open nor loaded. */
export async function toldNow(session: Session, file: string): Promise<{ of: FeatureContext; told: Told } | undefined> {
  for (;;) {
    const of = session.analysis.context(file)
    if (!of) return undefined
    const findings = of.findings()
    const reading = readPlaces(session, findings)
    if (reading) await reading
    if (!reading || session.analysis.current(file) === of) return { of, told: toldOf(findings, session) }
  }
}
