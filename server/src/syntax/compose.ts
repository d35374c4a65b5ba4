// One stretch of YAML text through the `yaml` library into our own tree. The library's own node objects are let go at once: they
// weigh fourteen times as much and know nothing of where a piece stands in the document.
import { Composer, type Document, isAlias, isMap, isScalar, isSeq, Lexer, Parser, type Node as YamlNode } from 'yaml'
import type { Span } from '../base/span.ts'
import type { SyntaxProblem } from './problem.ts'
import { AliasNode, type Anchor, MapNode, type Node, Pair, ScalarNode, SeqNode } from './tree.ts'
import { inPlainWords } from './words.ts'

export interface Composed {
  readonly contents: Node | undefined
  /** Offsets relative to the anchor. */
  readonly problems: readonly SyntaxProblem[]
  /** Anchors, aliases, tags or merge keys stand here: the document must be read as one. */
  readonly entangled: boolean
}

const OPTIONS = {
  version: '1.2',
  schema: 'failsafe',
  strict: true,
  uniqueKeys: false,
  prettyErrors: false,
  logLevel: 'silent',
  keepSourceTokens: false,
} as const

/** Parses one stretch that holds no document marker. */
export function compose(text: string, anchor: Anchor): Composed {
  const reading = readYaml(text)
  return composed(text, { ...reading, documents: reading.documents.slice(0, 1) }, anchor)
}

/** Where one entry of a run stands in the run's text, and the anchor its nodes are to have. */
export interface RunEntry {
  readonly from: number
  readonly anchor: Anchor
}

/**
 * Parses entries of one block that follow each other in one go, which costs a fraction of parsing them one by one. Each entry's contents are
 * a block of that entry alone, as `compose` would give it. Undefined where anything is wrong, or entries and text do not match: then each
 * entry is to be parsed by itself.
 */
export function composeRun(text: string, kind: 'map' | 'seq', entries: readonly RunEntry[]): readonly Composed[] | undefined {
  const { documents, mistakes, given } = readYaml(text)
  const contents = documents[0]?.contents
  if (given || mistakes.length > 0 || !(kind === 'map' ? isMap(contents) : isSeq(contents))) return undefined
  const { items, flow } = contents as { items: unknown[]; flow?: boolean }
  if (flow || items.length !== entries.length || !items.every((item) => keyMeetsColon(item, text))) return undefined
  return entries.map(({ from, anchor }, i) => {
    const problems: SyntaxProblem[] = []
    const builder = new Builder(text, anchor, problems, from)
    const contents = builder.entry(items[i])
    return { contents, problems, entangled: builder.entangled }
  })
}

/** Whether a key and its colon stand on one line. Where they do not, the library finds it in the first entry of a block only. */
function keyMeetsColon(entry: unknown, text: string): boolean {
  const end = isPairLike(entry) && !isMap(entry) ? (entry.key as YamlNode | null)?.range?.[1] : undefined
  if (end === undefined) return true
  COLON.lastIndex = end
  return COLON.test(text)
}

/** Parses a whole text, several documents included; the tree is the first one's. */
export function composeAll(text: string, anchor: Anchor): Composed {
  return composed(text, readYaml(text), anchor)
}

function composed(text: string, { documents, mistakes, given }: Reading, anchor: Anchor): Composed {
  const problems: SyntaxProblem[] = []
  // A text without a document says nothing, and its lines for YAML itself are judged elsewhere.
  for (const { code, start, end, message } of documents.length > 0 ? mistakes : [])
    problems.push({ code: CODES[code] ?? 'syntax', start, end: Math.max(start, end), detail: inPlainWords(code, message) })
  if (given) problems.push(given)
  const builder = new Builder(text, anchor, problems)
  const [first, second] = documents
  const contents = first?.contents ? builder.node(first.contents as YamlNode) : undefined
  if (second) {
    const start = second.range?.[0] ?? 0
    problems.push({ code: 'several-documents', start, end: start + 3, detail: '' })
  }
  return { contents, problems, entangled: builder.entangled }
}

/** Errors of the library that have a code of their own here. */
const CODES: Readonly<Record<string, SyntaxProblem['code']>> = { TAB_AS_INDENT: 'tab-indent' }

/** After so many mistakes a text is no document written by people: no more of them are kept. */
export const MAX_MISTAKES = 100

/** Lists and groups nested deeper are not read: all that walks a tree does so by recursion, and where the stack ends some engines end the whole program. */
const DEEPEST = 250

/** A stretch of more words and signs is not read: they take as long, and as much memory, as two megabytes of checks do when these are read one by one. */
const MAX_PARTS = 400_000

interface Mistake {
  readonly code: string
  readonly start: number
  readonly end: number
  readonly message: string
}

interface Reading {
  readonly documents: readonly Document.Parsed[]
  readonly mistakes: readonly Mistake[]
  /** Why the text was not read to its end. */
  readonly given: SyntaxProblem | undefined
}

/**
 * Reads a text by the library's own parts, word by word, so that it can be left where it leads nowhere: before the library recurses into a
 * deep text, before it holds a heap of signs, and before it makes an error of each.
 */
function readYaml(text: string): Reading {
  const mistakes: Mistake[] = []
  const note = (source: Source, code: string, message: string): void => {
    if (mistakes.length < MAX_MISTAKES) mistakes.push({ code, message, ...placeOf(source) })
  }
  const composer = new Composer(OPTIONS)
  // The library makes an Error of each mistake, at a kilobyte apiece; here a place and a code are enough.
  Object.assign(composer, {
    onError: (source: Source, code: string, message: string, warning?: boolean) => warning || note(source, code, message),
  })
  const documents: Document.Parsed[] = []
  const parser = new Parser()
  let parts = 0
  let unlikely = 0
  let offset = 0
  for (const part of new Lexer().lex(text)) {
    offset = parser.offset
    for (const token of parser.next(part)) {
      if (token.type === 'error') note(token, 'UNEXPECTED_TOKEN', token.message)
      else documents.push(...composer.next(token))
      if (UNLIKELY.has(token.type)) unlikely++
    }
    if (parser.stack.length > DEEPEST) return refused({ code: 'too-deep', start: offset, end: offset, detail: '' })
    if (++parts > MAX_PARTS)
      return refused({ code: 'too-large', start: 0, end: FIRST_WORD.exec(text)![0].length, detail: tooManyParts() })
    if (unlikely > MAX_MISTAKES) break
  }
  for (const token of parser.end()) documents.push(...composer.next(token))
  documents.push(...composer.end())
  const unread = unlikely > MAX_MISTAKES
  return { documents, mistakes, given: unread ? unreadFrom(offset) : undefined }
}

const refused = (given: SyntaxProblem): Reading => ({ documents: [], mistakes: [], given })

/** The problem of a text that is full of mistakes: from here on it is not read. */
export const unreadFrom = (start: number): SyntaxProblem => ({
  code: 'unread',
  start,
  end: start,
  detail: `More than ${MAX_MISTAKES} mistakes stand above this place, and nothing is read from here on.`,
})

/** Worded when it is told: the first number that is grouped makes the engine load all it knows of languages. */
const tooManyParts = (): string => `more than ${MAX_PARTS.toLocaleString('en-US')} words and signs hang together in it.`

/** What stands for a stretch that is not read: its key, or how its first line begins. */
const FIRST_WORD = /^[^:\r\n]{0,80}/

/** What stands at most a few times in a document, and makes a document of its own or a mistake each time. */
const UNLIKELY: ReadonlySet<string> = new Set(['error', 'directive', 'document', 'doc-end'])

/** Where the library's parts say that a mistake stands. */
type Source = number | readonly number[] | { readonly offset: number; readonly source?: string }

function placeOf(source: Source): Span {
  if (typeof source === 'number') return { start: source, end: source + 1 }
  if ('offset' in source) return { start: source.offset, end: source.offset + (source.source?.length ?? 1) }
  return { start: source[0]!, end: source[1]! }
}

class Builder {
  entangled = false
  private readonly anchors = new Map<string, Node>()

  constructor(
    private readonly text: string,
    private readonly anchor: Anchor,
    private readonly problems: SyntaxProblem[],
    /** Where the anchor stands in the text. */
    private readonly shift = 0,
  ) {}

  /** One entry of a block, a pair or an item, as a block of its own. */
  entry(entry: unknown): MapNode | SeqNode {
    if (isPairLike(entry) && !isMap(entry)) {
      const pair = this.pair(entry.key as YamlNode | null, entry.value as YamlNode | null, 0)
      return new MapNode(this.anchor, pair.start - this.anchor.start, pair.end - this.anchor.start, false, [pair])
    }
    const item = this.node(entry as YamlNode)
    return new SeqNode(this.anchor, item.start - this.anchor.start, item.end - this.anchor.start, false, [item])
  }

  node(node: YamlNode): Node {
    const [from, to] = node.range ? [node.range[0] - this.shift, node.range[1] - this.shift] : [0, 0]
    if (isAlias(node)) {
      this.entangled = true
      const target = this.anchors.get(node.source)
      if (target) share(target)
      else this.problems.push({ code: 'unknown-alias', start: from, end: to, detail: node.source })
      return new AliasNode(this.anchor, from, to, node.source, target)
    }
    if (node.tag && node.tag !== '!' && !PLAIN_TAGS.has(node.tag)) this.entangled = true
    const made = this.collectionOrScalar(node, from, to)
    const name = (node as { anchor?: string }).anchor
    if (name) {
      this.entangled = true
      this.anchors.set(name, made)
    }
    return made
  }

  private collectionOrScalar(node: YamlNode, from: number, to: number): Node {
    if (isMap(node)) {
      const pairs = node.items.map((pair) => this.pair(pair.key as YamlNode | null, pair.value as YamlNode | null, to))
      this.reportDuplicates(pairs)
      return new MapNode(this.anchor, from, this.endOf(pairs, node.flow === true, to), node.flow === true, pairs)
    }
    if (isSeq(node)) {
      // A flow sequence may hold a lone pair, which the library gives bare.
      const items = node.items.map((item) => (isPairLike(item) ? this.lonePair(item, to) : this.node(item as YamlNode)))
      return new SeqNode(this.anchor, from, this.endOf(items, node.flow === true, to), node.flow === true, items)
    }
    return this.scalar(node, from, to)
  }

  /** A block ends where its last entry does: the library counts the line break behind it, and sometimes the comment, as its own. */
  private endOf(entries: readonly { readonly end: number }[], flow: boolean, otherwise: number): number {
    const last = flow ? undefined : entries.at(-1)
    return last ? last.end - this.anchor.start : otherwise
  }

  private scalar(node: YamlNode, from: number, to: number): ScalarNode {
    if (!isScalar(node)) return new ScalarNode(this.anchor, from, to, '', 'empty')
    const text = typeof node.value === 'string' ? node.value : String(node.value ?? '')
    const style = node.type === 'PLAIN' ? (from === to ? 'empty' : 'plain') : (STYLES[node.type ?? 'PLAIN'] ?? 'block')
    return new ScalarNode(this.anchor, from, to, text, style)
  }

  private pair(key: YamlNode | null, value: YamlNode | null, end: number): Pair {
    const keyNode = key ? this.node(key) : undefined
    if (keyNode?.kind === 'scalar' && keyNode.text === '<<' && keyNode.style === 'plain') this.entangled = true
    const at = keyNode ? keyNode.end - this.anchor.start : end
    const valueNode = value ? this.valueAfter(value, at) : new ScalarNode(this.anchor, at, at, '', 'empty')
    const from = keyNode ? keyNode.start - this.anchor.start : valueNode.start - this.anchor.start
    return new Pair(
      this.anchor,
      from,
      Math.max(valueNode.end - this.anchor.start, at),
      keyNode?.kind === 'scalar' ? keyNode : undefined,
      valueNode,
    )
  }

  /** A value; one that is not there stands right behind its colon, and not behind the comment that the library puts it after. */
  private valueAfter(value: YamlNode, keyEnd: number): Node {
    const node = this.node(value)
    if (node.kind !== 'scalar' || node.style !== 'empty' || (value as { anchor?: string }).anchor || value.tag) return node
    COLON.lastIndex = keyEnd + this.shift
    if (!COLON.test(this.text)) return node
    const at = COLON.lastIndex - this.shift
    return new ScalarNode(this.anchor, at, at, '', 'empty')
  }

  private lonePair(pair: { key: unknown; value: unknown }, end: number): MapNode {
    const made = this.pair(pair.key as YamlNode | null, pair.value as YamlNode | null, end)
    return new MapNode(this.anchor, made.start - this.anchor.start, made.end - this.anchor.start, true, [made])
  }

  private reportDuplicates(pairs: readonly Pair[]): void {
    if (pairs.length < 2) return
    const seen = new Set<string>()
    for (const { key } of pairs) {
      if (!key || key.style === 'empty') continue
      if (seen.has(key.text)) this.problems.push(duplicate(key, this.anchor))
      seen.add(key.text)
    }
  }
}

/** Marks a node and all below it as shared. What is marked already is not walked again, so that aliases of aliases cost nothing. */
function share(node: Node): void {
  if (node.shared) return
  node.shared = true
  if (node.kind === 'map') for (const pair of node.pairs) share(pair.value)
  else if (node.kind === 'seq') for (const item of node.items) share(item)
}

/** The problem of a key given twice, relative to an anchor. */
export function duplicate(key: ScalarNode, anchor: Anchor): SyntaxProblem {
  return { code: 'duplicate-key', start: key.start - anchor.start, end: key.end - anchor.start, detail: key.text }
}

const COLON = /[ \t]*:/y

const STYLES: Readonly<Record<string, ScalarNode['style']>> = { PLAIN: 'plain', QUOTE_SINGLE: 'single', QUOTE_DOUBLE: 'double' }
const PLAIN_TAGS = new Set(['tag:yaml.org,2002:str', 'tag:yaml.org,2002:map', 'tag:yaml.org,2002:seq'])

const isPairLike = (item: unknown): item is { key: unknown; value: unknown } =>
  typeof item === 'object' &&
  item !== null &&
  'key' in item &&
  'value' in item &&
  !('range' in item && 'items' in item) &&
  !isScalar(item)
