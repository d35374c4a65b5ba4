// Reports the quantities that could not be read, at the part of the value that is at fault, with the fixes the reader of quantities knows.
import type { Span } from '../../base/span.ts'
import { replaceValue } from '../../model/edit.ts'
import type { BadValue } from '../../model/read.ts'
import { parseQuantity, type QuantityFix, type QuantityProblem, type QuantityProblemCode } from '../../quantities/parse.ts'
import type { Dimension } from '../../quantities/units.ts'
import type { LeafSchema } from '../../schema/schema.ts'
import { resolveAlias, type ScalarNode } from '../../syntax/tree.ts'
import type { Fix, RuleContext } from '../rule.ts'
import { fixOf } from './fixes.ts'
import { visible } from './lines.ts'
import { mistakesOf } from './mistakes.ts'
import { sentence } from './words.ts'

/** The kinds of document that hold quantities. */
export const ALL_KINDS = ['media', 'stock', 'printer', 'shop'] as const

export function reportBad(
  context: RuleContext,
  code: QuantityProblemCode,
  more: (bad: BadValue) => readonly (Fix | undefined)[] = () => [],
  also: (bad: BadValue) => string = () => '',
): void {
  const { document } = context
  for (const bad of mistakesOf(document).bad) {
    const { place, problem } = bad
    if (problem.code !== code || !('fixes' in problem)) continue
    context.report(spanWithin(document.text, bad, problem), sentence(problem.message) + also(bad), {
      fixes: () => [
        ...likeliest(bad, problem).map((fix) => fixOf(fix.title, replaceValue(place, fix.replacement, 'mend'), fix.preferred)),
        ...more(bad),
      ],
    })
  }
}

/** The scalar of a bad value, where it is written. */
export function scalarOf({ place }: BadValue): ScalarNode | undefined {
  const node = resolveAlias(place.node)
  return node?.kind === 'scalar' ? node : undefined
}

/** The problem's part of the value in the document's text; the whole value where quotes or line breaks make the two differ. */
function spanWithin(text: string, bad: BadValue, { span }: QuantityProblem): Span {
  const { node } = bad.place
  const whole = { start: node.start, end: node.end }
  if (node.kind !== 'scalar' || span.end <= span.start) return visible(text, whole)
  const offset = text.startsWith(node.text, node.start) ? 0 : text.startsWith(node.text, node.start + 1) ? 1 : -1
  if (offset < 0) return visible(text, whole)
  return visible(text, { start: node.start + offset + span.start, end: node.start + offset + span.end })
}

/**
 * The fixes that give a usual value first, and none that gives an impossible one; a unit that is only missing is one of those that make the
 * value usual, where any does.
 */
function likeliest({ schema }: BadValue, { code, fixes }: QuantityProblem): readonly QuantityFix[] {
  if (fixes.length < 2) return fixes
  const rated = fixes.map((fix) => ({ fix, worth: worthOf(fix.replacement, schema) }))
  const usual = rated.filter((r) => r.worth === 2)
  const kept = code === 'missing-unit' && usual.length > 0 ? usual : rated.filter((r) => r.worth > 0)
  return kept.sort((a, b) => b.worth - a.worth).map((r) => r.fix)
}

/** 2 for a usual value, 1 for a possible one, 0 for an impossible one. */
function worthOf(text: string, { accepts }: LeafSchema): 0 | 1 | 2 {
  for (const type of accepts) {
    if (type.type !== 'quantity') continue
    const value = siOf(text, type.dimension)
    if (value === undefined) continue
    const within = (low: string | undefined, high: string | undefined, open: boolean): boolean => {
      const [from, to] = [low, high].map((bound) => (bound === undefined ? undefined : siOf(bound, type.dimension)))
      if (open) return (from === undefined || value > from) && (to === undefined || value < to)
      return (from === undefined || value >= from) && (to === undefined || value <= to)
    }
    if (!within(type.min, type.max, false) || !within(type.above, type.below, true)) return 0
    return within(type.plausible?.[0], type.plausible?.[1], false) ? 2 : 1
  }
  return 1
}

function siOf(text: string, dimension: Dimension): number | undefined {
  const parsed = parseQuantity(text, dimension)
  return parsed.ok ? parsed.value.si : undefined
}
