// All samples as one workspace in memory, and everything a person may ask of a document at some place.
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import type { Action } from '../../server/src/features/context.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'

/** A day on which the samples' checks are fresh. */
export const TODAY = '2026-11-25'

export interface Bench {
  readonly analysis: Analysis
  readonly workspace: Workspace
  /** Takes a text for a sample and everything it needs. */
  put(name: string, text: string): Promise<string>
}

/** Rules that throw fail the test. */
export async function openBench(extra: Readonly<Record<string, string>> = {}): Promise<Bench> {
  const files = new Map(samples().map(({ name, text }) => [ROOT + name, text]))
  for (const [name, text] of Object.entries(extra)) files.set(ROOT + name, text)
  const workspace = new Workspace(new MemoryHost(files, TODAY))
  await workspace.addFolder(ROOT)
  return {
    workspace,
    analysis: new Analysis(workspace, true),
    async put(name, text) {
      const file = ROOT + name
      workspace.update(file, text)
      await workspace.prepare(file)
      return file
    },
  }
}

type Span = { readonly start: number; readonly end: number }

/** Asks for everything at an offset and over the whole document; whatever comes back must lie inside the text. */
export function askEverything(bench: Bench, file: string, offset: number): void {
  askWhole(bench, file)
  askAt(bench, file, offset)
}

/** What is asked over the whole document. */
export function askWhole({ analysis, workspace }: Bench, file: string): void {
  const { text } = workspace.document(file)!
  const inside = within(text)
  for (const finding of analysis.findings(file)) {
    inside(`finding ${finding.code}`, finding.span)
    if (!/\S/.test(finding.message) || /\b(?:NaN|undefined|null|Infinity|\[object)/.test(finding.message.replace(/'[^']*'/g, '')))
      throw new Error(`${finding.code} says: ${finding.message}`)
  }
  for (const hint of analysis.hints(file, { start: 0, end: text.length }))
    inside('hint', { start: hint.offset, end: hint.offset })
  const walk = (items: ReturnType<Analysis['outline']>): void => {
    for (const item of items) {
      inside(`outline ${item.name}`, item.span)
      inside(`outline ${item.name}`, item.selection)
      if (item.selection.start < item.span.start || item.selection.end > item.span.end)
        throw new Error(`outline ${item.name}: name outside`)
      walk(item.children)
    }
  }
  walk(analysis.outline(file))
  for (const fold of analysis.folds(file)) inside('fold', fold)
  for (const { span, target } of analysis.links(file)) {
    inside('link', span)
    if (!/^(?:https?:\/\/|file:\/\/\/shop\/)/.test(target)) throw new Error(`a link leads out of the shop: ${target}`)
  }
  for (const { span } of analysis.lenses(file)) inside('lens', span)
  let end = 0
  for (const token of analysis.tokens(file)) {
    inside('token', token)
    if (token.start < end || token.start === token.end) throw new Error('tokens overlap or are empty')
    end = token.end
  }
  for (const edit of analysis.format(file) ?? []) inside('edit', edit)
}

/** What is asked at a place. */
export function askAt({ analysis, workspace }: Bench, file: string, offset: number): void {
  const inside = within(workspace.document(file)!.text)
  const hover = analysis.hover(file, offset)
  if (hover) inside('hover', hover.span)
  for (const item of analysis.completions(file, offset)) inside(`completion ${item.label}`, item.edit)
  for (const { file: other, span } of analysis.definition(file, offset)) if (other === file) inside('location', span)
  const name = analysis.nameAt(file, offset)
  if (name) inside('name', name.span)
  for (const { span } of analysis.highlights(file, offset)) inside('highlight', span)
  const around = analysis.selections(file, offset)
  for (const [i, span] of around.entries()) {
    inside('selection', span)
    if (offset < span.start || offset > span.end) throw new Error('a selection away from the cursor')
    const next = around[i + 1]
    if (next && (span.start < next.start || span.end > next.end || span.end - span.start >= next.end - next.start))
      throw new Error('a selection does not grow')
  }
  analysis.actions(file, { start: offset, end: offset })
}

const within =
  (text: string) =>
  (what: string, { start, end }: Span): void => {
    if (!(0 <= start && start <= end && end <= text.length))
      throw new Error(`${what} [${start}-${end}] does not lie in a text of ${text.length}`)
  }

/** What is wrong with an action; undefined where nothing is. */
export async function faultOf(bench: Bench, file: string, action: Action): Promise<string | undefined> {
  if (action.refused !== undefined) return action.edits.length > 0 ? 'refused, and yet it has edits' : undefined
  const target = bench.workspace.document(action.file)
  if (!target) return `edits ${action.file}, which is not at hand`
  const { text } = target
  for (const { start, end } of action.edits)
    if (!(0 <= start && start <= end && end <= text.length)) return `edits [${start}-${end}] outside a text of ${text.length}`
  const edits = editsOf(text, action.edits)
  if (edits.length === 0) return 'changes nothing'
  if (action.snippet) return undefined
  const after = applyEdits(text, edits)
  if (target.tree.problems.length === 0) {
    const [problem] = SyntaxTree.parse(after).problems
    if (problem)
      return `breaks the text: ${problem.code} ${problem.detail} at '${after.slice(problem.start - 10, problem.end + 10)}'`
  }
  if (action.code === undefined || action.mends === undefined) return undefined
  const { span } = action.mends
  const findings = bench.analysis.findings(file)
  const mended = findings.find((f) => f.code === action.code && f.span.start === span.start && f.span.end === span.end)
  if (!mended) return `mends no finding of ${action.code}`
  const before = alike(findings, mended)
  const isOpen = bench.workspace.isOpen(action.file)
  bench.workspace.update(action.file, after)
  await bench.workspace.prepare(file)
  const left = alike(bench.analysis.findings(file), mended)
  if (isOpen) bench.workspace.update(action.file, text)
  else await bench.workspace.close(action.file)
  await bench.workspace.prepare(file)
  return left.length < before.length ? undefined : `leaves its finding: ${left.map((f) => f.message).join(' | ')}`
}

/** The findings that say the same. */
const alike = (findings: readonly Finding[], { code, message }: Finding): readonly Finding[] =>
  findings.filter((f) => f.code === code && f.message === message)
