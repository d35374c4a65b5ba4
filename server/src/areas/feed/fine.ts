// What the rules about fine picks say alike: what became of the picks, and where that is shown.
import type { Span } from '../../base/span.ts'
import type { FineResult, FineUse } from '../../calc/feed-key-in.ts'
import type { Place } from '../../model/field.ts'
import type { Setup } from '../../model/setup.ts'
import { feedOf } from './facts.ts'

/** The fine picks of a profile where one of these became of them, with the place of their list. */
export function fineOf(setup: Setup, ...uses: readonly FineUse[]): { readonly fine: FineResult; readonly at: Span } | undefined {
  const { fine } = feedOf(setup).reckoning ?? {}
  const list = setup.own.feed?.fine?.picks?.$
  return fine && list?.file === setup.file && uses.includes(fine.use) ? { fine, at: listSpan(list) } : undefined
}

/** A list in brackets is shown whole, one over several lines at its key. */
export function listSpan({ node, key }: Place): Span {
  const at = (node.kind === 'seq' && node.flow) || !key ? node : key
  return at
}
