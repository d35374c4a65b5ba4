// Anywhere in `feed:`: set the correction from all the checks that count; on a check: from that one alone.

import { feedOf } from '../areas/feed/facts.ts'
import { setFromAllChecks, setFromOneCheck } from '../areas/feed/shared.ts'
import { touches } from '../base/span.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Assist } from './assist.ts'

export const setCorrection: Assist = {
  id: 'set-correction',
  summary: 'Set the feed correction from the checks, or from one of them.',
  kind: 'refactor',
  at({ document, setup }: FeatureContext, span) {
    const feed = setup?.own.feed
    if (!setup || !feed) return []
    const { start } = feed.$.key ?? feed.$.node
    if (span.end < start || span.start > feed.$.node.end) return []
    const facts = feedOf(setup)
    const here = facts.evidence.find((e) => touches({ start: e.check.$.node.start, end: e.check.$.node.end }, span.start))
    return [setFromAllChecks(document, setup, facts), here && setFromOneCheck(document, setup, facts, here)]
  },
}
