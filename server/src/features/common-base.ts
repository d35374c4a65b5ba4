// What some profiles have in common, as a base of its own: the settings that mean the same in all of them go there with the comments that stand with them,
// and each profile names it. Nothing that was measured goes with them, nor the feed correction, which each profile has from its own checks.
import { endOfLine, startOfLine } from '../base/lines.ts'
import type { TextEdit } from '../base/text-edit.ts'
import type { RollDocument } from '../model/document.ts'
import { addKey, lineBreak } from '../model/edit.ts'
import { INHERITED, sameValue, settingAt } from '../model/setting.ts'
import { type MapNode, nodeAt, type Pair } from '../syntax/tree.ts'

type Profile = RollDocument<'media'>

/** What a profile without a base has to say. */
const HEADS = ['stock', 'printer', 'mode']

export interface CommonBase {
  /** The text of the new profile. */
  readonly text: string
  readonly edits: ReadonlyMap<Profile, readonly TextEdit[]>
  /** How many settings go there, beside stock, printer and mode. */
  readonly count: number
}

/** Whether all that a profile says is seen, and can be taken out line by line. */
export const isWhole = ({ tree, content }: Profile): boolean =>
  tree.problems.length === 0 &&
  tree.conflicts.length === 0 &&
  tree.root?.kind === 'map' &&
  !tree.root.flow &&
  content?.base === undefined &&
  ['profile', ...HEADS].every((key) => settingAt(content, [key]))

/**
 * The base of some whole profiles, called `id`; stock, printer and mode are those of the first, where they differ. Undefined where too little is the
 * same in all to be worth a document. `besides` are settings that stay where they are.
 */
export function commonBase(profiles: readonly Profile[], id: string, besides: RegExp = /^feed\./): CommonBase | undefined {
  const [first] = profiles
  const common = INHERITED.filter((path) => {
    const value = settingAt(first?.content, path)?.value
    const isSame = ({ content }: Profile): boolean => {
      const other = settingAt(content, path)
      return value !== undefined && other !== undefined && sameValue(value, other.value)
    }
    return !besides.test(path.join('.')) && profiles.every((one) => isSame(one) && canGo(one, path))
  })
  const count = common.filter(([key]) => !HEADS.includes(key!)).length
  if (!first || count < 2) return undefined
  const comments = new Map<string, Map<string, string>>()
  const edits = new Map<Profile, readonly TextEdit[]>()
  for (const profile of profiles) {
    const { tree, text } = profile
    const root = tree.root as MapNode
    const own = profile === first ? HEADS.filter((key) => canGo(first, [key])) : []
    const going = new Set([...common.map((path) => path.join('.')), ...own])
    const cut = new Cut(text, going, (path, words) => {
      const by = comments.get(path) ?? new Map<string, string>()
      comments.set(path, by.set(settingAt(profile.content, ['profile'])!.value as string, words))
    })
    cut.from(root, '')
    const named = addKey(text, root, 'base', id, root.pair('title') ? 'title' : 'profile')
    if (!named.ok) return undefined
    edits.set(profile, [...named.edits, ...cut.edits])
  }
  return { text: written(first, profiles, id, common, comments), edits, count }
}

/** Whether a setting stands so that it can be taken out: written once, in one line of its own or between braces without a comment. */
function canGo({ text, tree }: Profile, path: readonly string[]): boolean {
  let map = tree.root
  for (const [depth, key] of path.entries()) {
    const pair: Pair | undefined = map?.kind === 'map' ? map.pair(key) : undefined
    if (map?.kind !== 'map' || !pair?.key || map.shared) return false
    const { start, value } = pair
    if (text.slice(pair.key.end, value.start).replace(/#.*/g, '').trim() !== ':') return false
    if (map.flow ? text.slice(map.start, map.end).includes('#') : text.slice(startOfLine(text, start), start).trim() !== '')
      return false
    // What stands above the first line of all may be meant for the whole document.
    if (depth === 0 && pair === map.pairs[0]) return false
    const isLast = depth === path.length - 1
    if (isLast && (value.kind !== 'scalar' || value.shared || value.style === 'block' || value.style === 'empty')) return false
    const end = isLast || (value.kind === 'map' && value.flow) ? value.end : undefined
    if (!map.flow && end !== undefined && !/^[ \t]*(?:#.*)?\r?$/.test(text.slice(end, endOfLine(text, end)))) return false
    map = value
  }
  return true
}

/** Takes settings out of a text, each with its lines, and a section with them where nothing else is in it. */
class Cut {
  readonly edits: TextEdit[] = []

  constructor(
    private readonly text: string,
    private readonly going: ReadonlySet<string>,
    /** Is told of the comments that go with a setting or a section. */
    private readonly told: (path: string, words: string) => void,
  ) {}

  from(map: MapNode, path: string): void {
    const going = map.pairs.map((pair) => this.goes(pair, path))
    if (map.flow) this.between(map, going)
    else
      for (const [i, pair] of map.pairs.entries()) {
        const at = pathOf(pair, path)
        if (going[i]) this.lines(pair, at)
        else if (pair.value.kind === 'map') this.from(pair.value, at)
      }
  }

  private goes(pair: Pair, path: string): boolean {
    const at = pathOf(pair, path)
    const { value } = pair
    return value.kind === 'map' ? value.pairs.length > 0 && value.pairs.every((one) => this.goes(one, at)) : this.going.has(at)
  }

  private between({ pairs }: MapNode, going: readonly boolean[]): void {
    const kept = pairs.findIndex((_, i) => !going[i])
    if (kept > 0) this.edits.push({ start: pairs[0]!.start, end: pairs[kept]!.start, newText: '' })
    for (let i = kept + 1; i < pairs.length; i++)
      if (going[i]) this.edits.push({ start: pairs[i - 1]!.end, end: pairs[i]!.end, newText: '' })
  }

  private lines(pair: Pair, path: string): void {
    const { text } = this
    let start = this.comments(pair, path, /^\s*#/)
    let end = this.after(pair, path)
    const next = /^[ \t]*\r?\n/.exec(text.slice(end))
    // Of two blank lines that come together one goes.
    if (next && (start === 0 || /\n[ \t]*\r?\n$/.test(text.slice(0, start)))) end += next[0].length
    // The last line goes with the break before it.
    else if (end === text.length && !text.endsWith('\n')) start = text.slice(0, start).replace(/\r?\n$/, '').length
    this.edits.push({ start, end, newText: '' })
  }

  /** Tells of the comments above and behind a pair, and gives where the lines above begin. */
  private comments({ start, key, value }: Pair, path: string, above: RegExp): number {
    const { text } = this
    let from = startOfLine(text, start)
    const words: string[] = []
    for (let at = from; at > 0; ) {
      at = startOfLine(text, at - 1)
      const line = text.slice(at, endOfLine(text, at))
      if (!above.test(line)) break
      from = at
      if (line.trim() !== '') words.unshift(line.trim())
    }
    const isBlock = value.kind === 'map' && !value.flow
    const end = isBlock ? key!.end : value.end
    const behind = /#.*/.exec(text.slice(end, endOfLine(text, end)))
    if (behind) words.push(behind[0].trim())
    if (words.length > 0) this.told(path, words.join('\n'))
    return from
  }

  /** Tells of the comments within a pair that goes, and gives where the line behind it begins. */
  private after({ value }: Pair, path: string): number {
    if (value.kind === 'map' && !value.flow) {
      for (const pair of value.pairs) this.comments(pair, pathOf(pair, path), /^\s*(?:#|$)/)
      return this.after(value.pairs.at(-1)!, path)
    }
    return Math.min(endOfLine(this.text, value.end) + 1, this.text.length)
  }
}

const pathOf = ({ key }: Pair, path: string): string => (path === '' ? '' : `${path}.`) + key?.text

function written(
  first: Profile,
  profiles: readonly Profile[],
  id: string,
  common: readonly (readonly string[])[],
  comments: ReadonlyMap<string, ReadonlyMap<string, string>>,
): string {
  const names = profiles.map(({ content }) => content!.profile!.value)
  const lines = [`# What ${names.slice(0, -1).join(', ')} and ${names.at(-1)} have in common.`, `profile: ${id}`]
  const tell = (path: string, indent: string): void => {
    const by = comments.get(path) ?? new Map<string, string>()
    const isShared = by.size === profiles.length && new Set(by.values()).size === 1
    for (const [name, words] of isShared ? [...by].slice(0, 1) : by)
      for (const line of words.split('\n')) lines.push(`${indent}${isShared ? line : line.replace(/^#+ ?/, `# ${name}: `)}`)
  }
  const add = (path: readonly string[], indent: string): void => {
    tell(path.join('.'), indent)
    const node = nodeAt(first.tree.root, path)!
    lines.push(`${indent}${path.at(-1)}: ${first.text.slice(node.start, node.end)}`)
  }
  const sections = new Set<string>()
  const differing = HEADS.filter((key) => !common.some((path) => path[0] === key))
  if (differing.length > 0)
    lines.push(`# A base has to name them: ${differing.join(' and ')} as in ${names[0]}, the others give their own.`)
  for (const key of HEADS) add([key], '')
  for (const path of common) {
    const [key = ''] = path
    if (HEADS.includes(key)) continue
    if (path.length > 1 && !sections.has(key)) {
      sections.add(key)
      lines.push('')
      tell(key, '')
      lines.push(`${key}:`)
    }
    if (path.length === 1 && sections.size > 0) lines.push('')
    add(path, '  '.repeat(path.length - 1))
  }
  return `${lines.join('\n')}\n`.replaceAll('\n', lineBreak(first.text))
}
