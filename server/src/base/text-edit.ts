// Text edits as values: offsets plus new text, sorted and disjoint, built only through `editsOf`, which checks.
import type { Span } from './span.ts'

export interface TextEdit extends Span {
  readonly newText: string
}

/** Sorts edits, drops the ones that change nothing of `text`, and throws when two overlap (a programming error, never user input). */
export function editsOf(text: string, edits: readonly TextEdit[]): readonly TextEdit[] {
  const sorted = edits.filter((e) => text.slice(e.start, e.end) !== e.newText).sort((a, b) => a.start - b.start || a.end - b.end)
  for (let i = 1; i < sorted.length; i++) {
    if (sorted[i]!.start < sorted[i - 1]!.end) throw new Error('edits overlap')
  }
  return sorted
}

/** The text after the edits (which must be sorted and disjoint, as `editsOf` gives them). */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let out = ''
  let at = 0
  for (const edit of edits) {
    out += text.slice(at, edit.start) + edit.newText
    at = edit.end
  }
  return out + text.slice(at)
}

/** The one stretch in which two texts differ, as an edit of the first. */
export function editBetween(before: string, after: string): TextEdit {
  let start = 0
  while (start < before.length && before[start] === after[start]) start++
  let same = 0
  while (same < Math.min(before.length, after.length) - start && before.at(-1 - same) === after.at(-1 - same)) same++
  return { start, end: before.length - same, newText: after.slice(start, after.length - same) }
}

/** A snippet as plain text, for those that know none: its placeholders' texts and the first of its choices stay, and what was escaped is bare again. */
export const withoutStops = (text: string): string =>
  text.replace(
    /\$\{\d+\|((?:\\.|[^\\,|])*)(?:\\.|[^\\|])*\|\}|\$\{\d+(?::((?:\\.|[^\\}])*))?\}|\$\d+|\\([\\$}])/g,
    (_, first?: string, inner?: string, escaped?: string) =>
      first !== undefined
        ? first.replace(/\\(.)/g, '$1')
        : inner === undefined
          ? (escaped ?? '')
          : inner.replace(/\\([\\$}])/g, '$1'),
  )
