// The fixes of the feed rules: the one edit that writes the correction, and the one that leaves a check out with a reason.

import type { RollDocument } from '../../model/document.ts'
import { addKey, type Edit, replaceValue } from '../../model/edit.ts'
import type { Setup } from '../../model/setup.ts'
import type { Fix } from '../../rules/rule.ts'
import { resolveAlias } from '../../syntax/tree.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, resultOf } from './facts.ts'
import { feedAdvice } from './next.ts'
import { isExpectation } from './verdict.ts'
import { correctionText, K95, keyInText, sourceText } from './words.ts'

/** Writes the correction that all the checks that count ask for. Undefined where there is none, none the printer takes, or what is set may stay. */
export function setFromAllChecks(document: RollDocument, setup: Setup, facts: FeedFacts): Fix | undefined {
  const { reckoning } = facts
  const { keyIn } = reckoning ?? {}
  const advice = feedAdvice(facts)
  if (!keyIn || advice?.write === undefined) return undefined
  const text = correctionText(facts, advice.write)
  const key =
    keyIn.entry === 'percent' ? '' : advice.machine === 'key-in' ? `; key in ${keyInText(facts)}` : '; the machine has it already'
  return writeCorrection(
    document,
    setup,
    text,
    `Set the correction to ${text} (from ${sourceText(reckoning!)}${key})`,
    !isExpectation(facts),
  )
}

/** Writes the correction that one check asks for, rounded to the printer's step. */
export function setFromOneCheck(document: RollDocument, setup: Setup, facts: FeedFacts, evidence: FeedEvidence): Fix | undefined {
  const implied = resultOf(facts, evidence)?.implied
  if (!implied) return undefined
  const { range, reckoning, applied } = facts
  // Where what is set may stay, one check that does not speak against it is no reason to change it.
  const near = applied && Math.abs(applied.value.si - implied.correction) <= K95 * implied.u
  if (reckoning?.fine?.use === 'disagrees') return undefined
  if (near && (reckoning?.agreement?.mayStay || reckoning?.agreement?.asKeyedIn)) return undefined
  if (range && (implied.correction < range[0] || implied.correction > range[1])) return undefined
  const text = correctionText(facts, implied.correction)
  return writeCorrection(
    document,
    setup,
    text,
    `Set the correction to ${text} (from the check of ${evidence.check.date?.value ?? evidence.id} alone)`,
    false,
  )
}

function writeCorrection(document: RollDocument, setup: Setup, text: string, title: string, preferred: boolean): Fix | undefined {
  const edit = correctionEdit(document, setup, text)
  if (!edit) return undefined
  return edit.ok ? { title, edits: edit.edits, preferred } : { title, edits: [], refused: edit.refused }
}

/** Replaces the profile's own correction, or adds one where it has none or takes it from its base. */
function correctionEdit(document: RollDocument, { own }: Setup, text: string): Edit | undefined {
  const { feed } = own
  if (feed?.correction) return replaceValue(feed.correction.place, text)
  const root = document.tree.root
  const map = root?.kind === 'map' ? resolveAlias(root.pair('feed')?.value) : undefined
  if (map?.kind !== 'map') return undefined
  const half = map.pair('correction')
  if (half) return replaceValue({ file: document.file, node: half.value }, text)
  return addKey(document.text, map, 'correction', text)
}

/** Adds `skip: reason` to a check. */
export function skipCheck(document: RollDocument, evidence: FeedEvidence, reason: string): Fix | undefined {
  const { place } = { place: evidence.check.$ }
  const title = 'Leave this check out, with a reason'
  if (place.aliased || place.node.kind !== 'map')
    return { title, edits: [], refused: 'The check is shared through an anchor and an alias; write it out first.' }
  const edit = addKey(document.text, place.node, 'skip', reason)
  return edit.ok ? { title, edits: edit.edits } : { title, edits: [], refused: edit.refused }
}
