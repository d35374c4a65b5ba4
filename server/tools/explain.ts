// Turns schemas/explain/*.md into the data behind hovers and, together with the schemas, into the reference of all keys.
// npx tsx server/tools/explain.ts writes both; with --check it writes nothing, lists what is stale and exits with 1.

import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { unitsOf } from '../src/quantities/units.ts'
import {
  DOCUMENT_KINDS,
  type LeafType,
  type NumberType,
  type QuantityType,
  type RawMap,
  type RawNode,
} from '../src/schema/raw.ts'
import { wordMeaning } from '../src/schema/words.ts'
import { loadDocuments } from './schema/load.ts'

const ROOT = new URL('../../', import.meta.url)

export const EXPLAIN_FILES = [...DOCUMENT_KINDS, 'faults', 'families'] as const
export type ExplainFile = (typeof EXPLAIN_FILES)[number]

/** One section of an explanation file: its heading, its first paragraph and the parts by the label they stand under. */
export interface Section {
  readonly name: string
  readonly what: string
  /** A part that is a numbered list has one line an item, without its number. */
  readonly parts: ReadonlyMap<string, string>
  /** Lines that are not empty, the heading left out. */
  readonly lines: number
}

/** The files to write, by their path from the root of the project. */
export function generateExplain(): { path: string; text: string }[] {
  const sections = new Map(EXPLAIN_FILES.map((file) => [file, readSections(file)]))
  return [
    { path: 'server/src/schema/generated/explain-data.ts', text: dataModule(sections) },
    { path: 'schemas/reference/settings.md', text: reference(sections) },
  ]
}

/** The sections of one file. Throws, naming file and heading, where the text is not of the agreed shape. */
export function readSections(file: ExplainFile): readonly Section[] {
  return parseSections(readFileSync(new URL(`schemas/explain/${file}.md`, ROOT), 'utf8'), `schemas/explain/${file}.md`)
}

/** Text before the first heading of second order is for the reader of the file and is passed over. */
export function parseSections(text: string, where: string): readonly Section[] {
  const [, ...chunks] = `\n${text}`.split('\n## ')
  const sections = chunks.map((chunk) => parseSection(chunk, where))
  const names = sections.map((one) => one.name)
  const twice = names.find((name, n) => names.indexOf(name) !== n)
  if (twice !== undefined) throw new Error(`${where}: '${twice}' is explained twice`)
  return sections
}

function parseSection(chunk: string, where: string): Section {
  const [heading, ...body] = chunk.split('\n').map((line) => line.trimEnd())
  const name = heading!.trim()
  const lines = body.filter((line) => line !== '')
  const parts = new Map<string, string>()
  const what: string[] = []
  let label: string | undefined
  for (const line of lines) {
    const bullet = /^- ([A-Z][a-z]*(?: when)?):(?: (.+))?$/.exec(line)
    const item = /^ {2}(\d+)\. (.+)$/.exec(line)
    if (bullet !== null) {
      label = bullet[1]!
      if (parts.has(label)) throw new Error(`${where}: '${name}' has '${label}' twice`)
      parts.set(label, bullet[2] ?? '')
    } else if (label !== undefined && item !== null) {
      const before = parts.get(label)!
      const count = before === '' ? 0 : before.split('\n').length
      if (Number(item[1]) !== count + 1) throw new Error(`${where}: '${name}' miscounts at: ${line}`)
      parts.set(label, count === 0 ? item[2]! : `${before}\n${item[2]}`)
    } else if (label !== undefined && /^ {2,5}\S/.test(line)) {
      parts.set(label, `${parts.get(label)} ${line.trim()}`)
    } else if (label === undefined && /^[^\s#-]/.test(line)) {
      what.push(line)
    } else {
      throw new Error(`${where}: '${name}' has a line of no known form: ${line}`)
    }
  }
  if (what.length === 0) throw new Error(`${where}: '${name}' does not say what it is`)
  return { name, what: what.join(' '), parts, lines: lines.length }
}

/** The label each part stands under, and the name it has in the data; the labels in the order in which they stand. */
const KEY_PARTS = {
  Also: 'also',
  'Raise when': 'raise',
  'Lower when': 'lower',
  'Change when': 'change',
  Costs: 'costs',
  Caution: 'caution',
  Source: 'source',
}
const FAULT_PARTS = { Also: 'also', First: 'first', Causes: 'causes', Caution: 'caution', Source: 'source' }
const FAMILY_PARTS = { Behaves: 'behaves', Watch: 'watch', Caution: 'caution', Source: 'source' }

export function partsOf(file: ExplainFile): Readonly<Record<string, string>> {
  return file === 'faults' ? FAULT_PARTS : file === 'families' ? FAMILY_PARTS : KEY_PARTS
}

function dataModule(files: ReadonlyMap<ExplainFile, readonly Section[]>): string {
  const lines = [...files].map(([file, sections]) => {
    const data = Object.fromEntries(sections.map((section) => [section.name, sectionData(file, section)]))
    return `  ${file}: ${JSON.stringify(JSON.stringify(data))},`
  })
  return `// Generated by server/tools/explain.ts from schemas/explain/*.md. Do not edit.

/** The sections of each file as JSON text, parsed when they are first asked for. */
export const EXPLAIN_DATA = {
${lines.join('\n')}
} as const
`
}

function sectionData(file: ExplainFile, { name, what, parts }: Section): object {
  const names = partsOf(file)
  const entries = [...parts].map(([label, text]) => {
    const part = names[label]
    if (part === undefined) throw new Error(`schemas/explain/${file}.md: '${name}' has an unknown part '${label}'`)
    if (file === 'faults' && part === 'causes') return [part, text.split('\n').map((line) => causeOf(line, name))] as const
    return [part, part === 'also' ? text.split(', ') : text] as const
  })
  return { what, ...Object.fromEntries(entries) }
}

/** "lower `suction` on film: strong suction draws it into waves." as data; a cause that no setting cures is a sentence alone. */
function causeOf(line: string, fault: string): object {
  if (!/\b(?:raise|lower|look at) `/.test(line)) return { words: line }
  const found = /^(raise|lower|look at) `([^`]+)`(?: on (film|paper))?: (\S.*)$/.exec(line)
  if (found === null) throw new Error(`schemas/explain/faults.md: '${fault}' has a cause of no known form: ${line}`)
  const [, verb, setting, on, words] = found
  const way = verb === 'raise' ? 'up' : verb === 'lower' ? 'down' : undefined
  return { setting, ...(way && { way }), ...(on && { on }), words }
}

/** Every dotted key below a node, in the order of the schema. Items of lists and named keys are `*`. */
export function keysOf(root: RawMap): readonly (readonly [path: string, node: RawNode, parent: RawNode])[] {
  const below = (node: RawNode, path: string): (readonly [string, RawNode, RawNode])[] => {
    const step = (key: string, child: RawNode) => {
      const at = path === '' ? key : `${path}.${key}`
      return [[at, child, node] as const, ...below(child, at)]
    }
    if (node.kind === 'map') return node.properties.flatMap(([key, child]) => step(key, child))
    if (node.kind === 'table') return step('*', node.values)
    if (node.kind === 'list') return step('*', node.items)
    return []
  }
  return below(root, '')
}

const TITLES = {
  shop: 'The shop: `rollbook.yaml`',
  stock: 'A stock: `*.stock.yaml`',
  printer: 'A printer: `*.printer.yaml`',
  media: 'A profile: `*.media.yaml`',
}

function reference(files: ReadonlyMap<ExplainFile, readonly Section[]>): string {
  const documents = loadDocuments()
  const keys = DOCUMENT_KINDS.flatMap((kind) => {
    const sections = new Map(files.get(kind)!.map((section) => [section.name, section]))
    const root = documents.get(kind)!
    const all = keysOf(root)
    const overview = [
      '| key | in one sentence |',
      '| --- | --- |',
      ...all.map(([path, node]) => `| \`${path}\` | ${node.description} |`),
    ]
    return [
      `## ${TITLES[kind]}`,
      root.description,
      overview.join('\n'),
      ...all.flatMap(([path, node, parent]) => keyReference(path, node, parent, sections.get(path))),
    ]
  })
  const others = (title: string, file: ExplainFile) => [
    `## ${title}`,
    ...files.get(file)!.flatMap((section) => [`### \`${section.name}\``, section.what, bullets(section)]),
  ]
  const intro = [
    '# Reference of all keys',
    'Generated by `npx tsx server/tools/explain.ts` from `schemas/*.schema.json` and `schemas/explain/*.md`; edit those.',
    'Items of lists and keys that the shop names itself are written `*`. Numbers carry their mark: published, computed, from memory or common practice. ' +
      'Where heat, moving parts, vapour or static are concerned, the safety documents of machine, ink and stock, local codes and licensed practice come first.',
  ]
  return `${[...intro, ...keys, ...others('Faults', 'faults'), ...others('Material families', 'families')].join('\n\n')}\n`
}

function keyReference(path: string, node: RawNode, parent: RawNode, section: Section | undefined): readonly string[] {
  const key = path.slice(path.lastIndexOf('.') + 1)
  const facts = [
    parent.kind === 'list' && parent.tuple !== undefined ? parent.tuple.map(typeText).join('; then ') : typeText(node),
    ...(parent.kind === 'map' && parent.required?.includes(key) ? ['required'] : []),
    ...(parent.kind === 'map' && parent.requiredUnless?.keys.includes(key)
      ? [`required unless \`${parent.requiredUnless.unless}\` is given`]
      : []),
    ...(node.own === undefined ? [] : ['never taken from a base']),
    ...(node.readsBack === undefined ? [] : [`read back of \`${node.readsBack}\``]),
    ...(node.default === undefined ? [] : [`default \`${node.default}\``]),
    ...(node.examples === undefined ? [] : [`for example ${node.examples.map((one) => `\`${one}\``).join(', ')}`]),
  ]
  const meanings = node.kind !== 'leaf' ? [] : node.accepts.flatMap((type) => (type.type === 'choice' ? type.values : []))
  return [
    `### \`${path}\``,
    `*${capital(facts.join('; '))}.*`,
    ...(meanings.length === 0 ? [] : [meanings.map((word) => `- \`${word.value}\`: ${wordMeaning(word)}`).join('\n')]),
    ...(section === undefined ? [] : [section.what, bullets(section)]),
  ]
}

const bullets = (section: Section): string =>
  [...section.parts]
    .map(([label, text]) => {
      const [first, ...more] = text.split('\n')
      if (more.length === 0) return `- **${label}:** ${text}`
      return [`- **${label}:**`, ...[first, ...more].map((item, n) => `  ${n + 1}. ${item}`)].join('\n')
    })
    .join('\n')

function typeText(node: RawNode): string {
  switch (node.kind) {
    case 'leaf':
      return node.accepts.map(leafText).join('; or ')
    case 'list': {
      const single = node.single === undefined ? '' : `${typeText(node.single)}; or `
      return `${single}${node.rising ? 'a pair from low to high' : node.tuple ? `a list of ${node.tuple.length}` : 'a list'}`
    }
    case 'table':
      return node.keyType === 'integer' ? 'keys that are whole numbers' : 'keys that the shop names'
    case 'map':
      return 'a group of keys'
    case 'any':
      return 'anything'
  }
}

function leafText(type: LeafType): string {
  switch (type.type) {
    case 'quantity':
      return `${type.dimension.replaceAll('-', ' ')} in ${unitsOf(type.dimension)
        .map((unit) => `\`${unit.id}\``)
        .join(' ')}${limits(type)}`
    case 'integer':
      return `whole number${limits(type)}`
    case 'number':
      return `number${limits(type)}`
    case 'choice':
      return 'one of the words below'
    case 'date':
      return 'date as `YYYY-MM-DD`'
    case 'boolean':
      return '`true` or `false`'
    case 'text':
      return type.path
        ? 'file or web address'
        : type.ref
          ? `name of a ${type.ref}`
          : type.form === 'id'
            ? 'name in lower case with hyphens'
            : 'text'
  }
}

function limits({ min, max, above, below, plausible }: QuantityType | NumberType): string {
  const parts = [
    min === undefined ? '' : `from ${min}`,
    above === undefined ? '' : `above ${above}`,
    max === undefined ? '' : `up to ${max}`,
    below === undefined ? '' : `below ${below}`,
    plausible === undefined ? '' : `usually ${plausible[0]} to ${plausible[1]}`,
  ].filter((part) => part !== '')
  return parts.map((part) => `, ${part}`).join('')
}

const capital = (text: string): string => text.replace(/^[a-z]/, (letter) => letter.toUpperCase())

function main(): void {
  const check = process.argv.includes('--check')
  for (const { path, text } of generateExplain()) {
    const file = fileURLToPath(new URL(path, ROOT))
    if (existsSync(file) && readFileSync(file, 'utf8') === text) continue
    console.log(`${check ? 'stale' : 'written'}: ${path}`)
    if (check) process.exitCode = 1
    else {
      mkdirSync(dirname(file), { recursive: true })
      writeFileSync(file, text)
    }
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) main()
