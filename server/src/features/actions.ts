// Code actions: the fixes of the findings at the cursor (recomputed, never taken from the client's echo), the steps to try that they
// offer, and the assists offered there.

import { assistsAt } from '../assists/assists.ts'
import type { Span } from '../base/span.ts'
import { editsOf } from '../base/text-edit.ts'
import type { Finding, Fix } from '../rules/rule.ts'
import { withShortNames } from '../rules/support/words.ts'
import type { Action, FeatureContext } from './context.ts'

export function actions(context: FeatureContext, span: Span): readonly Action[] {
  const out: Action[] = []
  for (const finding of context.findings()) {
    if (finding.span.end < span.start || finding.span.start > span.end) continue
    for (const fix of finding.fixes?.() ?? []) if (fix) out.push(actionOf(context, fix, 'quickfix', finding))
    // Whoever applies all that mends a finding would apply these without end.
    for (const step of finding.steps?.() ?? [])
      if (step) out.push(actionOf(context, { ...step, preferred: false }, 'refactor', undefined))
  }
  for (const { fix, assist } of assistsAt(context, span)) {
    const { kind, records } = assist
    out.push({ ...actionOf(context, fix, kind, undefined), ...(records !== undefined && { records }) })
  }
  return distinct(out)
}

function actionOf(context: FeatureContext, fix: Fix, kind: Action['kind'], finding: Finding | undefined): Action {
  const file = fix.file ?? context.document.file
  const edits = file === context.document.file ? editsOf(context.document.text, fix.edits) : fix.edits
  return {
    title: withShortNames(fix.title),
    kind,
    file,
    edits,
    ...(fix.snippet && { snippet: true }),
    ...(fix.preferred && { preferred: true }),
    ...(fix.refused !== undefined && { refused: fix.refused }),
    ...(finding && { code: finding.code, mends: { file: finding.file, span: finding.span } }),
  }
}

/** Two findings may offer the same fix; a fix that changes nothing and gives no reason is none. */
function distinct(actions: readonly Action[]): readonly Action[] {
  const seen = new Set<string>()
  return actions.filter((action) => {
    if (action.edits.length === 0 && action.refused === undefined) return false
    const key = `${action.title}\n${action.file}\n${JSON.stringify(action.edits)}`
    if (seen.has(key)) return false
    seen.add(key)
    return true
  })
}
