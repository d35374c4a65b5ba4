// The assists: edits offered at the cursor that mend no finding. One file an assist; this is their list.
import type { Span } from '../base/span.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Fix } from '../rules/rule.ts'

/** One offered edit. `at` returns nothing where it does not apply: narrow applicability is what keeps the menu short. */
export interface Assist {
  readonly id: string
  readonly summary: string
  readonly kind: 'refactor' | 'add-check'
  at(context: FeatureContext, span: Span): readonly (Fix | undefined)[]
}

const ASSISTS: readonly Assist[] = []

export function assistsAt(context: FeatureContext, span: Span): readonly { fix: Fix; kind: Assist['kind'] }[] {
  return ASSISTS.flatMap(({ at, kind }) => at(context, span).flatMap((fix) => (fix ? [{ fix, kind }] : [])))
}
