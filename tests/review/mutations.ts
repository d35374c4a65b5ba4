// Small changes of documents by chance, each with what it means: another value, which has to be told at its place and nowhere else, or the same value
// written anew, which has to be told as no change at all. What a change means is known by how it was made, not by what the product reads.
import { LiveDocument } from '../../server/src/model/document.ts'
import { differenceOf } from '../../server/src/review/diff.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { type MapNode, type Node, resolveAlias, type ScalarNode } from '../../server/src/syntax/tree.ts'
import type { Chance } from '../support/chance.ts'

export interface Mutation {
  readonly text: string
  /** The keys where something else is said; undefined where the same is said as before. */
  readonly at: readonly string[] | undefined
  readonly what: string
}

interface Leaf {
  readonly node: ScalarNode
  readonly keys: readonly string[]
  /** Whether it stands in a list of single values, which is one value. */
  readonly listed: boolean
}

/** The single values of a document, but for what an alias stands for. */
function leavesOf(node: Node | undefined, keys: readonly string[] = [], listed = false): readonly Leaf[] {
  if (node === undefined || node.kind === 'alias') return []
  if (node.kind === 'scalar') return node.style === 'plain' ? [{ node, keys, listed }] : []
  if (node.kind === 'seq') return node.items.flatMap((item) => leavesOf(item, keys, item.kind === 'scalar'))
  return node.pairs.flatMap(({ key, value }) => (key ? leavesOf(value, [...keys, key.text]) : []))
}

const replaced = (text: string, { start, end }: { start: number; end: number }, by: string): string =>
  text.slice(0, start) + by + text.slice(end)

/** Units of ten, so that a digit moves and nothing is rounded: how many places the number gains in the other one. */
const SHIFTS: Readonly<Record<string, readonly [unit: string, places: number]>> = {
  mm: ['µm', 3],
  m: ['mm', 3],
  s: ['ms', 3],
  Pa: ['kPa', -3],
  GPa: ['MPa', 3],
  '%': ['ppm', 4],
}

/** '1.5' by three places is '1500', '320' by minus three is '0.320'. */
function shifted(number: string, places: number): string {
  const [sign, digits] = /^[+-]/.test(number) ? [number[0]!, number.slice(1)] : ['', number]
  const [whole = '', part = ''] = digits.split('.')
  const all = whole + part
  const point = whole.length + places
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${all}`
  if (point >= all.length) return `${sign}${(all + '0'.repeat(point - all.length)).replace(/^0+(?=\d)/, '')}`
  return `${sign}${all.slice(0, point).replace(/^0+(?=\d)/, '')}.${all.slice(point)}`
}

/** Digits that stand alone: 1.5, +0.18, not a day and no fraction. */
const NUMBER = /^([+-]?\d+(?:\.\d+)?)(?: (\S+))?$/

/** One mutation of a text; undefined where chance hit on nothing. */
export function mutated(text: string, file: string, chance: Chance): Mutation | undefined {
  const { tree } = new LiveDocument(file, kindOfFile(file)!, text)
  const leaves = leavesOf(tree.root)
  const leaf = chance.one(leaves)
  const { node, keys, listed } = leaf
  const [, number, unit] = NUMBER.exec(node.text) ?? []
  switch (chance.below(8)) {
    case 0:
    case 1: {
      // The last digit written is another one.
      if (number === undefined) return undefined
      const last = Number(number.at(-1))
      const other = (last + 1 + chance.below(9)) % 10
      const now = number.slice(0, -1) + other
      if (Number(now) === Number(number)) return undefined
      return { text: replaced(text, node, node.text.replace(number, now)), at: keys, what: 'a digit' }
    }
    case 2:
      // A word is another word.
      if (!/^[a-z][a-z-]*$/.test(node.text) || node.text === 'true' || node.text === 'false') return undefined
      return { text: replaced(text, node, `${node.text}-x`), at: keys, what: 'a word' }
    case 3: {
      // A line with one key and its value is gone.
      const start = text.lastIndexOf('\n', node.start) + 1
      const end = text.indexOf('\n', node.start) + 1
      if (end === 0 || listed || !/^ *[\w-]+: +[^\n{[]*$/.test(text.slice(start, end - 1)) || isOnlyKey(tree.root, keys))
        return undefined
      return { text: text.slice(0, start) + text.slice(end), at: keys, what: 'a line gone' }
    }
    case 4: {
      if (number === undefined || unit === undefined || SHIFTS[unit] === undefined) return undefined
      const [other, places] = SHIFTS[unit]
      return { text: replaced(text, node, `${shifted(number, places)} ${other}`), at: undefined, what: 'another unit' }
    }
    case 5:
      // Quotes around a text or a quantity; a bare number in quotes is a text.
      if (number !== undefined && unit === undefined) return undefined
      if (!/^[\w+.][\w .%°µ/+-]*$/.test(node.text) || /^(?:true|false|null)$/.test(node.text)) return undefined
      return { text: replaced(text, node, `'${node.text}'`), at: undefined, what: 'quotes' }
    case 6: {
      const start = text.lastIndexOf('\n', node.start) + 1
      return { text: `${text.slice(0, start)}# a word between\n${text.slice(start)}`, at: undefined, what: 'a comment' }
    }
    default: {
      // Two single lines of a group change places.
      const lines = /(\n)(( *)[\w-]+: +[^\n{[&*|>]+\n)(\3[\w-]+: +[^\n{[&*|>]+\n)/g
      const found = [...text.matchAll(lines)]
      if (found.length === 0) return undefined
      const one = chance.one(found)
      const [whole, , first = '', , second = ''] = one
      return {
        text: replaced(text, { start: one.index, end: one.index + whole.length }, `\n${second}${first}`),
        at: undefined,
        what: 'order',
      }
    }
  }
}

/** Whether a key stands alone in its group, which would be left without a value. */
function isOnlyKey(root: Node | undefined, keys: readonly string[]): boolean {
  let at = resolveAlias(root)
  for (const key of keys.slice(0, -1)) at = at?.kind === 'map' ? resolveAlias(at.pair(key)?.value) : undefined
  return at?.kind !== 'map' || (at as MapNode).pairs.length < 2
}

/** What is wrong with what is told of a mutation; undefined where it is right. */
export function fault(before: string, { text, at, what }: Mutation, file: string): string | undefined {
  const kind = kindOfFile(file)!
  const { changes, keys, form } = differenceOf(new LiveDocument(file, kind, before), new LiveDocument(file, kind, text))
  const told = changes.map(({ path }) => path).join(', ')
  const where = `${file.slice(file.lastIndexOf('/') + 1)}, ${what}${at ? ` at ${at.join('.')}` : ''}`
  if (at === undefined) {
    if (changes.length > 0) return `${where}: invented ${told}`
    return form.rewritten.length > 0 || form.order || form.comments || form.layout
      ? undefined
      : `${where}: not told as written anew`
  }
  if (changes.length === 0) return `${where}: missed`
  const expected = at.join('.')
  // An entry of a list whose day or name changed is another entry: what it was goes and what it is comes.
  const right =
    changes.length === 1 ? keys.has(expected) : changes.length === 2 && [...keys].every((key) => expected.startsWith(key))
  return right ? undefined : `${where}: told as ${told}`
}

/** So many mutations of documents, each with what is wrong with what is told of it; and how many there were of each sort. */
export function judged(
  documents: readonly (readonly [file: string, text: string])[],
  count: number,
  chance: Chance,
): { readonly faults: readonly string[]; readonly counts: ReadonlyMap<string, number> } {
  const faults: string[] = []
  const counts = new Map<string, number>()
  for (let made = 0; made < count; ) {
    const [file, text] = chance.one(documents)
    const mutation = mutated(text, file, chance)
    if (!mutation) continue
    made++
    counts.set(mutation.what, (counts.get(mutation.what) ?? 0) + 1)
    const wrong = fault(text, mutation, file)
    if (wrong !== undefined) faults.push(wrong)
  }
  return { faults, counts }
}
