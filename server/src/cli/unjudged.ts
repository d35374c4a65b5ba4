// What could not be judged of a document, and of the documents it rests on: texts that are not read, or not whole, and documents that are
// named and not there. Whoever says "nothing found" or names a number has to say these too.
import { LineIndex } from '../base/line-index.ts'
import { lastPart } from '../base/uri.ts'
import type { RollDocument } from '../model/document.ts'
import type { Facts } from '../model/facts.ts'
import type { Place } from '../model/field.ts'
import { type Lacking, lackingOf, lackingText } from '../model/lacking.ts'
import type { Bench } from './bench.ts'

export interface Unjudged {
  /** A sentence for a person. */
  readonly text: string
  /** What the profile names and nobody can read. */
  readonly lacking?: Lacking
  /** Where a finding tells it as well; undefined where no finding does. */
  readonly at?: { readonly file: string; readonly line: number }
  /** A text is told of where its reading failed, which may be lines away from what is broken: by any of these codes in the file. */
  readonly codes?: readonly string[]
}

const TEXT_CODES: readonly RollDocument['tree']['problems'][number]['code'][] = [
  'syntax',
  'tab-indent',
  'no-colon',
  'duplicate-key',
  'several-documents',
  'too-deep',
  'unknown-alias',
  'alias-limit',
]

/** For a document that is loaded, with all that it needs. */
export async function unjudgedOf(bench: Bench, file: string): Promise<readonly Unjudged[]> {
  const { workspace, analysis } = bench
  const document = workspace.document(file)
  if (!document) return []
  const parts = workspace.partsOf(document)
  const found = parts.flatMap((part) => unreadOf(bench, part))
  const unread = workspace.unread(file)
  for (const one of unread) if (one.kind === 'shop') found.push({ text: bench.unreadText(one) })
  const setup = analysis.context(file)?.setup
  if (!setup) return found
  for (const lacking of lackingOf(setup)) {
    const { kind, id, place } = lacking
    found.push({ text: lackingText(lacking, setup), lacking, at: { file: place.file, line: await lineOf(bench, place) } })
    if (kind === 'mode' || kind === 'instrument' || kind === 'colour-file') continue
    const name = `${id}.${kind}.yaml`
    const possible = unread.filter((one) => one.kind === kind || one.kind === 'folder')
    const named = possible.filter((one) => lastPart(one.place) === name)
    for (const one of named.length > 0 ? named : possible) found.push({ text: bench.unreadText(one) })
    // One whose text says nothing that can be read is known by its file alone.
    for (const facts of workspace.shelf(file).all(kind)) {
      const silent = lastPart(facts.file) === name ? await workspace.load(facts.file) : undefined
      if (silent && !parts.includes(silent)) found.push(...unreadOf(bench, silent))
    }
  }
  return found
}

/**
 * Tells the bench what is not read whole of the profiles of a shop that are `wanted`, and of all they rest on; also of those that do not say what they are:
 * nobody knows whether they are wanted.
 */
export async function tellBroken(bench: Bench, place: string, wanted: (facts: Facts) => boolean): Promise<void> {
  const { workspace } = bench
  for (const facts of [...workspace.shelf(place).all('media')]) {
    if (facts.values.profile && !wanted(facts)) continue
    if (!(await workspace.load(facts.file))) continue
    await workspace.prepare(facts.file)
    for (const { text, lacking } of await unjudgedOf(bench, facts.file)) if (!lacking) bench.trouble(text)
    workspace.release(facts.file)
  }
}

/** What is not read of a document's own text. */
export function unreadOf(bench: Bench, document: RollDocument): readonly Unjudged[] {
  const { file, tree, content } = document
  const shown = bench.shown(file)
  const problem = tree.problems.find(({ code }) => code !== 'conflict-markers')
  if (problem?.code === 'too-large' && !tree.root) return [{ text: `${shown} cannot be read: ${problem.detail}` }]
  if (!content && tree.text.trim() !== '' && (problem || tree.root))
    return [{ text: `${shown} cannot be read: nothing in it is a setting. Is it the right file?` }]
  // Where markers stand they say more.
  if (bench.workspace.unmerged.has(file) && tree.conflicts.length === 0)
    return [
      {
        text: `${shown} may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it ('git diff -- ${shown}'), then 'git add ${shown}'.`,
      },
      ...brokenOf(document, shown),
    ]
  if (!problem && tree.conflicts.length === 0) return []
  const lines = new LineIndex(tree.text)
  const line = (offset: number): number => lines.position(offset).line + 1
  const conflicts = tree.conflicts.map(({ start }) => ({
    text: `${shown} is read in part: in line ${line(start)} a merge conflict is not settled, and its lower version is not read.`,
  }))
  return [...conflicts, ...brokenOf(document, shown)]
}

function brokenOf({ file, tree }: RollDocument, shown: string): readonly Unjudged[] {
  const problem = tree.problems.find(({ code }) => code !== 'conflict-markers')
  if (!problem) return []
  const line = new LineIndex(tree.text).position(problem.start).line + 1
  return [
    { text: `${shown} is read in part: its text is broken in or before line ${line}.`, at: { file, line }, codes: TEXT_CODES },
  ]
}

async function lineOf({ workspace }: Bench, { file, node }: Place): Promise<number> {
  const document = await workspace.load(file)
  return document ? new LineIndex(document.text).position(node.start).line + 1 : 1
}
