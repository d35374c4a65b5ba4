// Strings ready for translation: those of the manifest stand in package.nls.json, those of the client go through the editor's own `l10n`. What the server says
// stays English.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse } from '@babel/parser'
import { expect, test } from 'vitest'

const ROOT = join(import.meta.dirname, '..', '..')
const read = (path: string): string => readFileSync(join(ROOT, path), 'utf8')

interface Node {
  readonly type: string
  readonly [part: string]: unknown
}

const isNode = (value: unknown): value is Node => typeof (value as Node | null)?.type === 'string'

/** A node and all below it but what `skip` says. */
function* below(node: Node, skip: (node: Node) => boolean): Generator<Node> {
  if (skip(node)) return
  yield node
  for (const part of Object.values(node).flat()) if (isNode(part)) yield* below(part, skip)
}

const codeOf = (node: unknown, source: string): string =>
  source.slice((node as Node).start as number, (node as Node).end as number)
const CLIENT = readdirSync(join(ROOT, 'client/src')).map((name) => {
  const source = read(`client/src/${name}`)
  return { name, source, tree: parse(source, { sourceType: 'module', plugins: ['typescript'] }).program as unknown as Node }
})

const isCallOf = (node: Node, called: RegExp, source: string): boolean =>
  node.type === 'CallExpression' && called.test(codeOf(node.callee, source))

test('every word of the manifest that a person reads is in package.nls.json, and nothing else is', () => {
  const strings: Readonly<Record<string, string>> = JSON.parse(read('package.nls.json'))
  const manifest = JSON.parse(read('package.json'))
  const used = [...JSON.stringify(manifest).matchAll(/"%([\w.-]+)%"/g)].map(([, key]) => key!)
  expect(new Set(used)).toEqual(new Set(Object.keys(strings)))
  const plain: string[] = []
  JSON.stringify([manifest.contributes, manifest.capabilities], (key, value) => {
    const told = /^(?:title|contextualTitle|name|contents|altText|description|markdownDescription)$/.test(key)
    if (typeof value === 'string' && told && !/^%.*%$/.test(value)) plain.push(value)
    return value
  })
  // Names.
  expect(new Set(plain)).toEqual(new Set(['Rollbook']))
})

test('each label of the client can be found by whoever translates: its text stands where it is asked for', () => {
  let found = 0
  for (const { source, tree } of CLIENT)
    for (const node of below(tree, () => false)) {
      if (!isCallOf(node, /\bl10n\.t$/, source)) continue
      const [text, ...values] = node.arguments as Node[]
      expect(text!.type, codeOf(node, source)).toBe('StringLiteral')
      const places = new Set([...String(text!.value).matchAll(/\{(\d)\}/g)].map(([, n]) => Number(n)))
      expect(places, codeOf(node, source)).toEqual(new Set(values.keys()))
      found++
    }
  expect(found).toBeGreaterThan(80)
})

test('no words of the client pass a translator by', () => {
  // Programs and pages, whose words are the server's.
  const others = /^(?:parts|picture-page|review-page)\.ts$/
  const words = CLIENT.filter(({ name }) => !others.test(name)).flatMap(({ name, source, tree }) =>
    [...below(tree, (node) => isCallOf(node, /\bl10n\.t$|\blog\.\w+$/, source) || node.type.startsWith('Import'))].flatMap(
      ({ type, value }) => {
        const text = type === 'StringLiteral' ? value : type === 'TemplateElement' ? (value as { cooked: string }).cooked : ''
        return /^[^<]*[A-Za-z]{2}[,:]? [a-z]{2}/.test(String(text)) ? [`${name}: ${text}`] : []
      },
    ),
  )
  expect(words).toEqual([])
})
