// A document cut into whole lines by what they say: each entry of a group or of a list with the comments above it, so that entries can be put together
// anew of lines that somebody wrote.
import type { MapNode, Node, Pair, SeqNode } from '../syntax/tree.ts'

export interface Segment {
  /** The key; of an item what it is known by. */
  readonly key: string
  /** Comments and blank lines above it. */
  readonly lead: string
  /** Its own lines, with what stands below it. */
  readonly body: string
  /** Where its own lines begin. */
  readonly start: number
  readonly end: number
  readonly value: Node
}

/** The pairs of a group that is written in lines; undefined where two share a line. `from`: where the lines above the first begin. */
export function pairSegments(
  text: string,
  map: MapNode,
  from: number,
  keyOf: (pair: Pair) => string,
): readonly Segment[] | undefined {
  return cut(
    text,
    from,
    map.pairs.map((pair) => ({ at: pair.start, end: pair.end, value: pair.value, key: keyOf(pair) })),
  )
}

/** The items of a list that is written in lines. */
export function itemSegments(
  text: string,
  list: SeqNode,
  from: number,
  keyOf: (item: Node, index: number) => string,
): readonly Segment[] | undefined {
  const parts = list.items.map((item, i) => ({
    at: text.lastIndexOf('-', item.start - 1),
    end: item.end,
    value: item,
    key: keyOf(item, i),
  }))
  return parts.some(({ at }) => at < 0) ? undefined : cut(text, from, parts)
}

function cut(
  text: string,
  from: number,
  parts: readonly { readonly at: number; readonly end: number; readonly value: Node; readonly key: string }[],
): readonly Segment[] | undefined {
  const out: Segment[] = []
  let done = from
  for (const { at, end: last, value, key } of parts) {
    const start = text.lastIndexOf('\n', at - 1) + 1
    if (
      start < done ||
      text
        .slice(start, at)
        .replace(/^\ufeff/, '')
        .trim() !== ''
    )
      return undefined
    let content = last
    while (content > at && /\s/.test(text[content - 1]!)) content--
    const end = lineEnd(text, content)
    out.push({ key, lead: text.slice(done, start), body: text.slice(start, end), start, end, value })
    done = end
  }
  return out
}

/** Behind the break of the line that holds an offset, or the end of the text. */
export function lineEnd(text: string, offset: number): number {
  const next = text.indexOf('\n', offset)
  return next < 0 ? text.length : next + 1
}

/** Comment lines above an entry: those of both sides, without what either took out. */
export function mergeLead(base: string, ours: string, theirs: string): string {
  if (ours === theirs || theirs === base) return ours
  if (ours === base) return theirs
  const lines = (text: string): readonly string[] => text.split(/(?<=\n)/)
  const isComment = (line: string): boolean => line.trim().startsWith('#')
  const [was, mine, other] = [lines(base), lines(ours), lines(theirs)]
  const kept = mine.filter((line) => !isComment(line) || other.includes(line) || !was.includes(line))
  const added = other.filter((line) => isComment(line) && !was.includes(line) && !mine.includes(line))
  return [...kept, ...added].join('')
}
