// Structural issues by code, each with the spot it stands at: the shared half of the rules that speak of a document's shape.
import type { Span } from '../../base/span.ts'
import type { MapSchema } from '../../schema/schema.ts'
import type { StructureIssue } from '../../schema/structure.ts'
import type { RuleContext } from '../rule.ts'
import { mistakesOf, pairOf } from './mistakes.ts'
import { keySpanOf, type Spot, schemaOfSpot, spanOfSpot, spotOf } from './places.ts'

type Code = StructureIssue['issue']
export type Issue<C extends Code> = Extract<StructureIssue, { readonly issue: C }>

export interface Spotted<C extends Code> extends Spot {
  readonly issue: Issue<C>
  readonly span: Span
}

/** The issues of one code, in the order of the text. */
export function* issuesOf<C extends Code>(context: RuleContext, code: C): Generator<Spotted<C>> {
  const { document } = context
  for (const { issue, node } of mistakesOf(document).issues) {
    if (issue.issue !== code) continue
    const spot = spotOf(document, node)
    yield { ...spot, issue: issue as Issue<C>, span: spanOfSpot(document, spot) }
  }
}

/** The span of a key in a mapping, for issues that stand at the mapping. */
export function keySpanIn(context: RuleContext, spot: Spot, key: string): Span {
  return keySpanOf(pairOf(spot.node, key)) ?? spanOfSpot(context.document, spot)
}

/** The schema of the mapping at a spot. */
export function mapSchemaOf(context: RuleContext, spot: Spot): MapSchema | undefined {
  const schema = schemaOfSpot(context.document, spot)
  return schema?.kind === 'map' ? schema : undefined
}
