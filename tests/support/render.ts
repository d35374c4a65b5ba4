// Renderings of what a user sees, as text: findings as underlines, hovers with the hovered word, hints in place, completions as a list.

import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { numbersFor } from '../../server/src/features/numbers-for.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { locate } from '../../server/src/syntax/locate.ts'
import { cursorOf, openFixture, parseFixture } from './fixture.ts'

/** The lines with findings, each underlined: `^^^ error[code]: message  (fix: title)`. */
export function renderFindings(text: string, findings: readonly Finding[]): string {
  const lines = new LineIndex(text)
  const out: string[] = []
  let shown = -1
  for (const finding of findings) {
    const { line, character } = lines.position(finding.span.start)
    if (line !== shown) out.push(text.slice(lines.lineStart(line), lines.lineEnd(line)))
    shown = line
    const width = Math.max(1, Math.min(finding.span.end, lines.lineEnd(line)) - finding.span.start)
    const offered = (what: string, made: Finding['fixes']): string =>
      (made?.() ?? [])
        .flatMap((f) => (f ? [`  (${what}: ${f.refused === undefined ? f.title : `${f.title} [refused: ${f.refused}]`})`] : []))
        .join('')
    out.push(
      `${' '.repeat(character)}${'^'.repeat(width)} ${finding.severity}[${finding.code}]: ${finding.message}${offered('fix', finding.fixes)}${offered('to try', finding.steps)}`,
    )
  }
  return out.join('\n')
}

/** All findings of a fixture's marked (or first) file. */
export async function findings(source: string, today?: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  return renderFindings(fixture.text, analysis.findings(fixture.file))
}

/** `*hovered text*` and the Markdown below it. */
export async function hover(source: string, today?: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  const found = analysis.hover(fixture.file, cursorOf(fixture))
  return found ? `*${fixture.text.slice(found.span.start, found.span.end)}*\n${found.markdown}` : 'nothing'
}

/** All that the numbers of this setup tell of the setting at the cursor, of which a hover leaves out what it has no room for: verdict, the rest, caution. */
export async function numbersAt(source: string, today?: string): Promise<string> {
  const fixture = parseFixture(source)
  const { document, setup } = (await openFixture(fixture, today)).context(fixture.file)!
  const numbers = setup && numbersFor(document, setup, locate(document.tree.root, cursorOf(fixture))!.path)
  if (!numbers) return 'nothing'
  const { verdict, told = [], caution } = numbers
  return [verdict && `**${verdict}**`, ...told, caution].filter((text) => text).join('\n\n')
}

/** The text with each hint in place: ⟦label⟧. */
export async function hints(source: string, today?: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  const found = analysis.hints(fixture.file, { start: 0, end: fixture.text.length })
  return applyEdits(
    fixture.text,
    found.map((h) => ({ start: h.offset, end: h.offset, newText: `⟦${h.label}⟧` })),
  )
}

/** The labels offered at the cursor, and the text after accepting one (the first unless named). */
export async function completions(
  source: string,
  accept?: string,
): Promise<{ labels: readonly string[]; after: string; documentation: ReadonlyMap<string, string | undefined> }> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const items = [...analysis.completions(fixture.file, cursorOf(fixture))].sort((a, b) =>
    (a.sort ?? a.label) < (b.sort ?? b.label) ? -1 : 1,
  )
  const chosen = accept === undefined ? items[0] : items.find((i) => i.label === accept)
  return {
    labels: items.map((i) => i.label),
    after: chosen ? applyEdits(fixture.text, editsOf(fixture.text, [chosen.edit, ...(chosen.also ?? [])])) : fixture.text,
    documentation: new Map(items.map((i) => [i.label, i.documentation])),
  }
}

/** The titles of the actions at the cursor; refused ones with their reason. */
export async function actionTitles(source: string, today?: string): Promise<readonly string[]> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  return analysis
    .actions(fixture.file, fixture.mark!)
    .map((a) => (a.refused === undefined ? a.title : `${a.title} [refused: ${a.refused}]`))
}

/** The whole text after one action at the cursor. */
export async function afterAction(source: string, title: string | RegExp, today?: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture, today)
  const offered = analysis.actions(fixture.file, fixture.mark!)
  const action = offered.find((a) => (typeof title === 'string' ? a.title === title : title.test(a.title)))
  if (!action) throw new Error(`no action ${title}; offered: ${offered.map((a) => a.title).join(' | ') || 'none'}`)
  return applyEdits(fixture.text, editsOf(fixture.text, action.edits))
}

/** The outline, indented. */
export async function outline(source: string): Promise<string> {
  const fixture = parseFixture(source)
  const analysis = await openFixture(fixture)
  const lines: string[] = []
  const walk = (items: ReturnType<typeof analysis.outline>, depth: number): void => {
    for (const item of items) {
      lines.push(`${'  '.repeat(depth)}${item.name}${item.detail ? ` · ${item.detail}` : ''}`)
      walk(item.children, depth + 1)
    }
  }
  walk(analysis.outline(fixture.file), 0)
  return lines.join('\n')
}
