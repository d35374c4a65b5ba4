// A node as plain JavaScript values, by the YAML 1.2 core schema, for structural checks; and the one reading of a plain scalar
// (text, number, truth or nothing) that the whole product shares. Aliases and merge keys are resolved under a bound.
import { type MapNode, type Node, type Pair, resolveAlias, type ScalarNode } from './tree.ts'

export type Plain = string | number | boolean | null | readonly Plain[] | { readonly [key: string]: Plain }

/** How many nodes aliases and merge keys may stand for in one document, all together. */
export const ALIAS_LIMIT = 20_000

/** A mapping that has no key but its own. One made by `Object.create(null)` is a hash table, and slow to fill and to look into. */
const Bare = bare as unknown as new () => { [key: string]: Plain }
bare.prototype = Object.create(null)

function bare(): void {}

export class PlainReader {
  private left = ALIAS_LIMIT
  /** True once the bound was met: what was read is incomplete. */
  exceeded = false

  read(node: Node | undefined): Plain {
    if (!node) return null
    if (node.kind === 'scalar') return scalarValue(node)
    if (node.kind === 'alias') {
      if (--this.left < 0) this.exceeded = true
      return this.exceeded ? null : this.read(resolveAlias(node))
    }
    if (node.plain !== undefined) return node.plain as Plain
    const value: Plain = node.kind === 'seq' ? node.items.map((item) => this.read(item)) : this.map(node)
    node.plain = value
    return value
  }

  private map(node: MapNode): Plain {
    const out: { [key: string]: Plain } = new Bare()
    for (const { key, value } of this.pairs(node)) if (key && !(key.text in out)) out[key.text] = this.read(value)
    return out
  }

  /** A mapping's pairs with merge keys resolved: own pairs first, which win. */
  pairs(node: MapNode): readonly Pair[] {
    if (!node.pair('<<')) return node.pairs
    const own = node.pairs.filter((p) => !isMerge(p))
    const merged: Pair[] = []
    const taken = new Set(own.map((p) => p.key?.text))
    for (const merge of node.pairs.filter(isMerge)) {
      const value = resolveAlias(merge.value)
      for (const source of value?.kind === 'seq' ? value.items : [value]) {
        const from = resolveAlias(source)
        if (from?.kind !== 'map' || from === node) continue
        for (const pair of from.pairs) {
          if (--this.left < 0) {
            this.exceeded = true
            return [...own, ...merged]
          }
          if (isMerge(pair) || !pair.key || taken.has(pair.key.text)) continue
          taken.add(pair.key.text)
          merged.push(pair)
        }
      }
    }
    return [...own, ...merged]
  }
}

const isMerge = (pair: Pair): boolean => pair.key?.text === '<<' && pair.key.style === 'plain'

const NULL = /^(?:null|Null|NULL|~)?$/
const TRUE = /^(?:true|True|TRUE)$/
const FALSE = /^(?:false|False|FALSE)$/
const NUMBER = /^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$/
const OTHER_BASE = /^(?:0o[0-7]+|0x[0-9a-fA-F]+)$/

/** A scalar's value by the YAML 1.2 core schema. Quoted text is text; infinities and not-a-number stay text. */
export function scalarValue(node: ScalarNode): string | number | boolean | null {
  const { text, style } = node
  if (style === 'empty') return null
  if (style !== 'plain') return text
  const c = text.charCodeAt(0)
  if (c <= 57 || c === 126) {
    if (NUMBER.test(text)) return Number(text)
    if (OTHER_BASE.test(text)) return Number(text)
  }
  if (text.length <= 5) {
    if (NULL.test(text)) return null
    if (TRUE.test(text)) return true
    if (FALSE.test(text)) return false
  }
  return text
}
