// What is read only by whoever asks for an explanation (a rule's page and examples, the explained settings) is shipped as data of its own,
// so that no start pays for it: this plugin takes it out of the bundled modules and leaves a way to the data in its place.
import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import type { Plugin } from 'esbuild'
import { shownExample } from '../src/features/explain.ts'
import { RULES } from '../src/rules/generated/index.ts'
import { EXPLAIN_DATA } from '../src/schema/generated/explain-data.ts'

/** Beside the bundle. */
export const PAGES_FILE = 'pages.json'

/** The data: of a rule's examples what its page shows of the one it shows; the others are no more than its tests. */
export function pagesText(): string {
  const rules = RULES.map((rule) => {
    const shown = shownExample(rule)
    const examples = shown ? [{ text: shown.text, message: shown.message, after: shown.after }] : []
    return [rule.code, { docs: rule.docs, examples }]
  })
  // A JSON text within: whoever rests the pointer on a setting does not read the pages of all rules.
  return JSON.stringify({ explained: EXPLAIN_DATA, rules: JSON.stringify(Object.fromEntries(rules)) })
}

/** Whatever loads the bundle knows how to load the data beside it. */
const LOADER = `let pages, rules
const read = () => (pages ??= require(${JSON.stringify(`./${PAGES_FILE}`)}))
export const explained = (file) => read().explained[file]
export const ruleOf = (code) => (rules ??= JSON.parse(read().rules))[code]
`

const DOCS = /\n {2}docs: `[\s\S]*?`,(?=\n {2}\w)/
const EXAMPLES = /\n {2}examples: \[\n[\s\S]*?\n {2}\],(?=\n\}\)\n)/

export const pagesApart: Plugin = {
  name: 'pages-apart',
  setup({ onLoad, onResolve }) {
    onResolve({ filter: /^pages$/ }, () => ({ path: 'pages', namespace: 'pages' }))
    onResolve({ filter: /^\.\/pages\.json$/ }, ({ path }) => ({ path, external: true }))
    onLoad({ filter: /.*/, namespace: 'pages' }, () => ({ contents: LOADER, loader: 'js' }))
    onLoad({ filter: /[\\/]src[\\/]schema[\\/]generated[\\/]explain-data\.ts$/ }, () => {
      // Faults are explained by a rule's advice as well.
      const getters = Object.entries(EXPLAIN_DATA).map(([file, text]) =>
        file === 'faults' ? `${file}: ${JSON.stringify(text)}` : `get ${file}() { return explained('${file}') }`,
      )
      return {
        contents: `import { explained } from 'pages'\nexport const EXPLAIN_DATA = { ${getters.join(', ')} }\n`,
        loader: 'js',
      }
    })
    onLoad({ filter: /[\\/]src[\\/](?:.*[\\/])?rules[\\/][\w-]+\.ts$/ }, ({ path }) => {
      const text = readFileSync(path, 'utf8')
      const rule = RULES.find(({ code }) => code === basename(path, '.ts'))
      if (!rule) return { contents: text, loader: 'ts' }
      const contents = text
        .replace(DOCS, `\n  get docs() { return ruleOf('${rule.code}').docs },`)
        .replace(EXAMPLES, `\n  get examples() { return ruleOf('${rule.code}').examples },`)
      if (contents.split('ruleOf(').length !== 3)
        return { errors: [{ text: `${path}: docs or examples are not written as in other rules` }] }
      return { contents: `import { ruleOf } from 'pages'\n${contents}`, loader: 'ts' }
    })
  },
}
