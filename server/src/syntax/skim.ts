// Reads a few entries of a document's root and passes over the rest, so that ten thousand documents are indexed quickly. What is read is
// what the whole tree would say of these entries: a test holds it.
import { clean } from './clean.ts'
import { compose } from './compose.ts'
import { SyntaxTree, sizeProblem } from './parse.ts'
import { readBlock } from './reader.ts'
import { type Cut, cutBlock } from './split.ts'
import { type Anchor, MapNode, type Node, type Pair } from './tree.ts'

/** Where an anchor, an alias, a tag or a merge key may stand: then a document is read as one. More may look like it than are. */
const ENTANGLED = /(?<![A-Za-z0-9])[&*!]|<</

/** What is in no ordinary text: one of these, a control character, a lone carriage return or the mark of a conflict. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these characters are what is looked for.
const ODD = /[\u0000-\u0008\u000b-\u001f&*!<]/

/** The root of a document with the entries of these keys alone, and whatever belongs to no key. */
export function skim(written: string, wanted: ReadonlySet<string>): Node | undefined {
  if (sizeProblem(written)) return undefined
  // One look at every letter, where most texts need no second.
  const odd = ODD.test(written)
  const text = odd ? clean(written).text : written
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0
  const cuts = odd && ENTANGLED.test(text) ? undefined : cutBlock(text, start, text.length, 0)
  if (!cuts) return SyntaxTree.parse(written).root
  const anchor: Anchor = { start: 0 }
  const pairs: Pair[] = []
  for (const cut of cuts.entries) {
    if (cut.keyEnd >= 0 && !wanted.has(text.slice(cut.start, cut.keyEnd)) && !fallsApart(text, cut)) continue
    const at: Anchor = { start: cut.start }
    const contents = readBlock(text, cut.start, cut.end, at, cut.start) ?? compose(text.slice(cut.start, cut.end), at).contents
    if (contents?.kind === 'map' && !contents.flow) pairs.push(...contents.pairs)
  }
  return new MapNode(anchor, start, text.length, false, pairs)
}

/** The header of a text in lines of its own, `notes: |`, and the indentation of its first line. */
const LINES = /:[ \t]+[|>][-+]?[ \t]*(?:#[^\n]*)?\r?\n(?:[ \t]*\r?\n)*( +)/y

/** Whether lines stand in a text of an entry that are indented, and less than its first: they belong to no text, and are read as entries. */
function fallsApart(text: string, cut: Cut): boolean {
  LINES.lastIndex = cut.keyEnd
  const indent = LINES.exec(text)?.[1]?.length ?? 0
  if (indent < 2 || LINES.lastIndex > cut.end) return false
  return new RegExp(`^ {1,${indent - 1}}[^ \\t\\r\\n]`, 'm').test(text.slice(LINES.lastIndex, cut.end))
}
