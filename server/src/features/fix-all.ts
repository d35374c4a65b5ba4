// All that can be mended in a document without asking: the fixes that their rules declare to be of form, each held to it. How the text is written changes, and nothing that
// it says: no setting, no measurement, no state and no date.
import { applyEdits, editsOf, type TextEdit } from '../base/text-edit.ts'
import { canonical } from '../model/canonical.ts'
import { LiveDocument } from '../model/document.ts'
import type { Finding, Fix } from '../rules/rule.ts'
import type { DocumentKind } from '../schema/schema.ts'
import type { Action, FeatureContext } from './context.ts'

/** Undefined where there is nothing to mend so. One mistake can hide another: what is left is mended the next time. */
export function fixAll({ document, findings }: FeatureContext): Action | undefined {
  const { file, kind, text } = document
  let edits: readonly TextEdit[] = []
  let count = 0
  for (const finding of findings()) {
    const fix = formFix(finding, file)
    if (!fix) continue
    const more = [...edits, ...editsOf(text, fix.edits)].sort((a, b) => a.start - b.start || a.end - b.end)
    if (more.some((edit, i) => i > 0 && edit.start < more[i - 1]!.end) || !saysTheSame(kind, text, applyEdits(text, more)))
      continue
    edits = more
    count++
  }
  if (count === 0) return undefined
  return { title: `Mend the form of the text: ${count === 1 ? '1 place' : `${count} places`}`, kind: 'fix-all', file, edits }
}

/** The fix of form of a finding, in its own file. */
export const formFix = ({ fixes }: Finding, file: string): Fix | undefined =>
  (fixes?.() ?? []).find((fix) => fix?.form && fix.preferred && fix.refused === undefined && (fix.file ?? file) === file)

/** Whether nothing but blanks differs, or every value is what it was. */
export function saysTheSame(kind: DocumentKind, before: string, after: string): boolean {
  const bare = (text: string): string => text.replace(/[ \t]+/g, '')
  if (bare(before) === bare(after)) return true
  const [was, is] = [before, after].map((text) => new LiveDocument('', kind, text))
  return canonical(was!.tree.root, was!.schema) === canonical(is!.tree.root, is!.schema)
}
