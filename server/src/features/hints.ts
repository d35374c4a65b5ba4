// Inlay hints: beside each feed check the correction it implies and its uncertainty, so that a stranger among them is seen at once; beside each fine
// pick the row it was picked in.

import type { FeedEvidence } from '../areas/feed/evidence.ts'
import { type FeedFacts, feedOf, resultOf } from '../areas/feed/facts.ts'
import { feedAdvice } from '../areas/feed/next.ts'
import { rowsOf, rowText } from '../areas/feed/rows.ts'
import { verdictSentences, wordText } from '../areas/feed/verdict-words.ts'
import { correctionText, keyInText, plusMinusOfOne } from '../areas/feed/words.ts'
import type { Span } from '../base/span.ts'
import { calledLevels } from '../model/level-names.ts'
import type { FeatureContext, Hint } from './context.ts'

export function hints({ setup }: FeatureContext, span: Span): readonly Hint[] {
  if (!setup) return []
  const facts = feedOf(setup)
  const out: Hint[] = []
  for (const evidence of facts.evidence) {
    const { node } = evidence.check.$
    if (node.end < span.start || node.start > span.end) continue
    const label = checkLabel(facts, evidence)
    if (label !== undefined) out.push({ offset: node.end, label, ...tooltip(evidence) })
  }
  const correction = setup.own.feed?.correction
  if (correction && facts.evidence.length > 0) {
    // Of an open merge nobody knows which number is asked for when it is settled.
    const keysIn = feedAdvice(facts)?.machine === 'key-in' && setup.unsettled.length === 0
    const text = keysIn ? keyInText(facts) : undefined
    const { end } = correction.place.node
    const label = `${wordText(facts)}${text === undefined ? '' : `: ${facts.expected ? 'expect' : 'key in'} ${text}`}`
    if (end >= span.start && end <= span.end) out.push({ offset: end, label, tooltip: verdictSentences(facts).join(' ') })
  }
  const picks = setup.own.feed?.fine?.picks
  const rows = picks && rowsOf(setup, picks.items.length)
  for (const [i, pick] of picks?.items.entries() ?? []) {
    const { file, node } = pick.place
    if (rows && file === setup.file && node.end >= span.start && node.start <= span.end)
      out.push({ offset: node.end, label: rows[i]!, tooltip: `The pick of ${rowText(rows, i)}.` })
  }
  // Where a level stands by its name its number, and where it stands by its number its name.
  for (const { value, called, place } of calledLevels(setup.own)) {
    const { file, node } = place
    if (file !== setup.file || node.kind !== 'scalar' || node.end < span.start || node.start > span.end) continue
    out.push({ offset: node.end, label: node.text === called ? `level ${value}` : called })
  }
  return out.sort((a, b) => a.offset - b.offset)
}

function checkLabel(facts: FeedFacts, evidence: FeedEvidence): string | undefined {
  const result = resultOf(facts, evidence)
  if (!result?.implied) return undefined
  const label = `→ ${correctionText(facts, result.now ?? result.implied.correction)} ${plusMinusOfOne(result.implied.u)}`
  if (result.suspect !== undefined) return `${label}, far from the others`
  if (evidence.doubt) return `${label}, proves nothing now`
  if (result.use !== 'included') return `${label}, not counted`
  return evidence.carries.length > 0 ? `${label}, carried` : label
}

const tooltip = (evidence: FeedEvidence): { tooltip?: string } =>
  evidence.reason === undefined
    ? { tooltip: 'The correction this check asks for under the settings of now; ± is the 95 % interval of its reading.' }
    : { tooltip: `${evidence.doubt ? 'It proves nothing of today' : 'Not counted'}: ${evidence.reason}.` }
