// The smallest text edits on a document: replace a value, add a key, add an item. Each keeps every other byte, or is refused with a reason.
import { LineIndex } from '../base/line-index.ts'
import type { TextEdit } from '../base/text-edit.ts'
import type { MapNode, Pair, ScalarNode, SeqNode } from '../syntax/tree.ts'
import type { Place } from './field.ts'

export type Edit = { readonly ok: true; readonly edits: readonly TextEdit[] } | { readonly ok: false; readonly refused: string }

/** No edit, and why, in a sentence. */
export const refuse = (refused: string): { readonly ok: false; readonly refused: string } => ({ ok: false, refused })

const THROUGH_ALIAS =
  'The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first.'

/**
 * Replaces a scalar's text; quotes stay as they are. A value that aliases repeat elsewhere is not changed, unless it is mended: what is
 * wrong with it is wrong everywhere.
 */
export function replaceValue(place: Place, text: string, purpose: 'change' | 'mend' = 'change'): Edit {
  const { node } = place
  if (place.aliased || node.kind === 'alias' || (node.shared && purpose === 'change'))
    return { ok: false, refused: THROUGH_ALIAS }
  if (node.kind !== 'scalar') return { ok: false, refused: 'A list or mapping stands where one value is due.' }
  if (node.style === 'block') return { ok: false, refused: 'The value is a block of text; edit it by hand.' }
  if (node.style === 'empty')
    return { ok: true, edits: [{ start: node.start, end: node.end, newText: ` ${plainOrQuoted(text)}` }] }
  return { ok: true, edits: [{ start: node.start, end: node.end, newText: inStyle(node, text) }] }
}

/** Replaces a key's text. */
export function replaceKey(key: ScalarNode, text: string): Edit {
  return { ok: true, edits: [{ start: key.start, end: key.end, newText: inStyle(key, text) }] }
}

/**
 * Adds `key: value` to a mapping: in a flow mapping behind its last pair, in a block mapping on a line of its own, after the pair of key
 * `after` (undefined: before the first pair; not found: after the last one). `value` is YAML text written as it shall stand; one
 * that begins with a line break begins below its key.
 */
export function addKey(text: string, map: MapNode, key: string, value: string, after?: string): Edit {
  if (map.shared) return { ok: false, refused: THROUGH_ALIAS }
  const { pairs } = map
  const eol = lineBreak(text)
  const entry = (/^\r?\n/.test(value) ? `${key}:${value}` : `${key}: ${value}`).replace(/\r?\n/g, eol)
  if (map.flow) {
    const closing = text.lastIndexOf('}', map.end - 1)
    if (closing < map.start) return { ok: false, refused: 'The { is not closed yet.' }
    const previous = pairs.find((p) => p.key?.text === after) ?? pairs.at(-1)
    const at = previous ? previous.end : map.start + 1
    return { ok: true, edits: [{ start: at, end: at, newText: previous ? `, ${entry}` : entry }] }
  }
  const [first] = pairs
  if (!first) return { ok: false, refused: 'The mapping has no entries to align with.' }
  const lines = new LineIndex(text)
  const indent = indentOf(text, lines, first.start)
  if (indent === undefined)
    return {
      ok: false,
      refused: 'An anchor (&), a tag (!) or a question mark stands before the first key here; add the line by hand.',
    }
  if (after === undefined)
    return { ok: true, edits: [{ start: first.start, end: first.start, newText: `${entry}${eol}${indent}` }] }
  const previous = pairs.find((p) => p.key?.text === after) ?? pairs.at(-1)!
  const line = lines.lineAt(lastContent(text, previous.start, previous.end))
  const at = lines.lineEnd(line)
  return { ok: true, edits: [{ start: at, end: at, newText: `${eol}${indent}${entry}` }] }
}

/** Adds an item (one line of YAML, without the dash) at the end of a list. */
export function addItem(text: string, list: SeqNode, item: string): Edit {
  if (list.shared) return { ok: false, refused: THROUGH_ALIAS }
  const last = list.items.at(-1)
  if (list.flow) {
    const at = last ? last.end : list.start + 1
    return { ok: true, edits: [{ start: at, end: at, newText: last ? `, ${item}` : item }] }
  }
  if (!last) return { ok: false, refused: 'The list has no items to align with.' }
  const lines = new LineIndex(text)
  const dash = text.lastIndexOf('-', last.start - 1)
  if (dash < 0) return { ok: false, refused: 'The list has no items to align with.' }
  const indent = text.slice(lines.lineStart(lines.lineAt(dash)), dash)
  if (indent.trim() !== '') return { ok: false, refused: 'The list begins on the line of another list.' }
  const at = lines.lineEnd(lines.lineAt(lastContent(text, last.start, last.end)))
  return { ok: true, edits: [{ start: at, end: at, newText: `${lineBreak(text)}${indent}- ${item}` }] }
}

/**
 * Makes a mapping under a key a list with the mapping as its one item: between braces by brackets around it, on lines of its own by a dash before its
 * first key and two spaces before its other lines, comments between them and the lines of a longer text alike.
 */
export function listOfOne(text: string, { key, value: map }: Pair): Edit {
  if (map.kind !== 'map' || !key) return { ok: false, refused: 'No group of keys stands there.' }
  if (map.shared) return { ok: false, refused: THROUGH_ALIAS }
  if (/[&!]/.test(text.slice(key.end, map.start).replace(/#.*/g, '')))
    return { ok: false, refused: 'An anchor (&) or a tag (!) stands before it; write the dash by hand.' }
  if (/^(?:<{7}|={7}|>{7}|\|{7})/m.test(text.slice(map.start, map.end)))
    return { ok: false, refused: 'There is an open conflict in it: settle it first.' }
  const insert = (at: number, newText: string): TextEdit => ({ start: at, end: at, newText })
  if (map.flow) {
    if (text[map.end - 1] !== '}') return { ok: false, refused: 'The { is not closed yet.' }
    return { ok: true, edits: [insert(map.start, '['), insert(map.end, ']')] }
  }
  const lines = new LineIndex(text)
  const first = lines.lineAt(map.start)
  if (text.slice(lines.lineStart(first), map.start).trim() !== '')
    return { ok: false, refused: 'It does not begin on a line of its own; write the dash by hand.' }
  const edits = [insert(map.start, '- ')]
  const last = lines.lineAt(lastContent(text, map.start, map.end))
  for (let line = first + 1; line <= lines.lineAt(map.end); line++) {
    const [at, end] = [lines.lineStart(line), lines.lineEnd(line)]
    // Behind the last words only blanks can be a part of it: those of a text that keeps its lines.
    if (line <= last ? end > at : at < map.end && end > at && text.slice(at, end).trim() === '') edits.push(insert(at, '  '))
  }
  return { ok: true, edits }
}

/** An item to add: one line of YAML, without the dash, before the item of an index; behind the last where there is no such item. */
export interface AddedItem {
  readonly item: string
  readonly before: number
}

/** Adds items to a list, in the order given where several go to one place. Comments stay with the items below them. */
export function addItems(text: string, list: SeqNode, added: readonly AddedItem[]): Edit {
  if (list.shared) return { ok: false, refused: THROUGH_ALIAS }
  const { items } = list
  const places = new Map<number, string[]>()
  for (const { item, before } of added) {
    const place = Math.min(before, items.length)
    places.set(place, [...(places.get(place) ?? []), item])
  }
  const edits: TextEdit[] = []
  const insert = (at: number, newText: string): unknown => edits.push({ start: at, end: at, newText })
  if (list.flow) {
    for (const [place, here] of places) {
      const joined = here.join(', ')
      if (place > 0) insert(items[place - 1]!.end, `, ${joined}`)
      else insert(items[0]?.start ?? list.start + 1, items.length > 0 ? `${joined}, ` : joined)
    }
    return { ok: true, edits }
  }
  const blocks = blocksOf(text, list)
  const [first] = blocks ?? []
  if (!blocks || !first) return { ok: false, refused: 'The list has no items to align with, each on a line of its own.' }
  if (places.has(0) && first.commented)
    return {
      ok: false,
      refused: 'A comment stands above the first item, and may be meant for the whole list; add what comes before it by hand.',
    }
  const eol = lineBreak(text)
  const dash = `${/^\s*/.exec(text.slice(first.start))![0]}- `
  for (const [place, here] of places) {
    if (place > 0) insert(blocks[place - 1]!.end, here.map((item) => `${eol}${dash}${item}`).join(''))
    else insert(first.start, here.map((item) => `${dash}${item}${eol}`).join(''))
  }
  return { ok: true, edits }
}

/**
 * Moves items of a block list so that their values rise: as few as can be, each as whole lines together with the comment lines right above it. One value
 * for each item, in their order.
 */
export function sortItems(text: string, list: SeqNode, values: readonly string[]): Edit {
  if (list.shared) return { ok: false, refused: THROUGH_ALIAS }
  if (list.flow) return { ok: false, refused: 'The list stands between brackets; move the items by hand.' }
  const blocks = blocksOf(text, list)
  if (!blocks) return { ok: false, refused: 'An item does not begin on a line of its own; move it by hand.' }
  const staying = longestRising(values)
  const moving = values.map((_, i) => i).filter((i) => !staying.includes(i))
  if (moving.includes(0) && blocks[0]!.commented)
    return {
      ok: false,
      refused: 'A comment stands above the first item, and may be meant for the whole list; move the item by hand.',
    }
  const eol = lineBreak(text)
  const end = blocks.at(-1)!.end
  const edits: TextEdit[] = []
  for (const [n, i] of moving.entries()) {
    if (moving[n - 1] === i - 1) continue
    const next = staying.find((s) => s > i)
    // At the end of the list the line break goes with what stands before it.
    const [from, to] = next === undefined ? [blocks[i - 1]!.end, end] : [blocks[i]!.start, blocks[next]!.start]
    edits.push({ start: from, end: to, newText: '' })
  }
  const before = new Map<number, number[]>()
  for (const i of moving) {
    // Behind those of its own value that stay, so that what was made on one day keeps its order.
    const place = staying.find((s) => values[s]! > values[i]! || (values[s] === values[i] && s > i)) ?? -1
    before.set(place, [...(before.get(place) ?? []), i])
  }
  for (const [place, items] of before) {
    const lines = items
      .sort((a, b) => (values[a]! < values[b]! ? -1 : values[a]! > values[b]! ? 1 : a - b))
      .map((i) => text.slice(blocks[i]!.start, blocks[i]!.end))
    const at = place < 0 ? endOfStaying(blocks, staying) : blocks[place]!.start
    edits.push({ start: at, end: at, newText: lines.map((line) => (place < 0 ? `${eol}${line}` : `${line}${eol}`)).join('') })
  }
  return { ok: true, edits: edits.sort((a, b) => a.start - b.start || a.end - b.end) }
}

const endOfStaying = (blocks: readonly { readonly end: number }[], staying: readonly number[]): number =>
  blocks[staying.at(-1)!]!.end

/** Each item's lines: from the comments right above its dash to the end of its last line. Undefined where one shares a line with something else. */
function blocksOf(text: string, list: SeqNode): { start: number; end: number; commented: boolean }[] | undefined {
  const lines = new LineIndex(text)
  const blocks: { start: number; end: number; commented: boolean }[] = []
  for (const item of list.items) {
    const dash = text.lastIndexOf('-', item.start - 1)
    if (dash < 0) return undefined
    const line = lines.lineAt(dash)
    if (text.slice(lines.lineStart(line), dash).trim() !== '') return undefined
    let first = line
    const isComment = (n: number): boolean => /^\s*#/.test(text.slice(lines.lineStart(n), lines.lineEnd(n)))
    while (first > 0 && isComment(first - 1)) first--
    const commented = first < line
    const end = lines.lineEnd(lines.lineAt(lastContent(text, item.start, item.end)))
    blocks.push({ start: lines.lineStart(blocks.length === 0 ? line : first), end, commented })
  }
  return blocks
}

/** The places of a longest run of values that do not fall, in order. */
function longestRising(values: readonly string[]): readonly number[] {
  const best: { length: number; from: number }[] = []
  for (const [i, value] of values.entries()) {
    let own = { length: 1, from: -1 }
    for (let j = 0; j < i; j++)
      if (values[j]! <= value && best[j]!.length + 1 > own.length) own = { length: best[j]!.length + 1, from: j }
    best.push(own)
  }
  const run: number[] = []
  let at = best.reduce((last, one, i) => (last < 0 || one.length > best[last]!.length ? i : last), -1)
  for (; at >= 0; at = best[at]!.from) run.unshift(at)
  return run
}

/** The line break a text uses. */
export const lineBreak = (text: string): string => (text.includes('\r\n') ? '\r\n' : '\n')

/** What one version of YAML reads as a number and another as a text, or as another number: 010, 0x1F, 0b11, 1_000, .nan. */
const READ_OTHERWISE = /^[-+]?(?:0[box][\da-f_]+|0[\d_]+|[\d.]*_[\d._]*|\.inf|\.nan)$/i

/** Plain where YAML 1.1 and 1.2 both read it back as the same text or number, single-quoted otherwise. */
export function plainOrQuoted(text: string): string {
  const safe =
    /^[A-Za-z0-9+.\u00b1\u2212-][^\n\r#:{}[\],&*!|>'"@`]*$/.test(text) &&
    text === text.trim() &&
    !/^(?:-(?:\s.*)?|\.+|---.*|null|true|false|yes|no|on|off|y|n)$/i.test(text) &&
    !READ_OTHERWISE.test(text)
  return safe ? text : `'${text.replace(/'/g, "''")}'`
}

function inStyle(node: ScalarNode, text: string): string {
  if (node.style === 'single') return `'${text.replace(/'/g, "''")}'`
  if (node.style === 'double') return `"${text.replace(/[\\"]/g, '\\$&')}"`
  return plainOrQuoted(text)
}

/** The spaces that bring a new line under an offset; undefined where anything but spaces and dashes stands before it on its line. */
function indentOf(text: string, lines: LineIndex, offset: number): string | undefined {
  const before = text.slice(lines.lineStart(lines.lineAt(offset)), offset).replace(/^\ufeff/, '')
  return /^[ -]*$/.test(before) ? ' '.repeat(before.length) : undefined
}

/** The offset of the last character before `end` that is neither space nor line break: a block node may end with blank lines. */
function lastContent(text: string, start: number, end: number): number {
  let at = end - 1
  while (at > start && /\s/.test(text[at]!)) at--
  return at
}
