// What an assist is: an edit offered at the cursor that mends no finding. One file an assist.
import type { Span } from '../base/span.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Fix } from '../rules/rule.ts'

/** `at` returns nothing where it does not apply: narrow applicability is what keeps the menu short. */
export interface Assist {
  readonly id: string
  readonly summary: string
  readonly kind: 'refactor' | 'record'
  /** Which evidence it records: 'feed.checks'. */
  readonly records?: string
  at(context: FeatureContext, span: Span): readonly (Fix | undefined)[]
}
