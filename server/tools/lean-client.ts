// The library of the language client brings every feature of the protocol, and a library of patterns for one of them. What our server does not answer is not
// shipped: it is a fifth of the client.
import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import type { Plugin } from 'esbuild'
import type { ServerCapabilities } from 'vscode-languageserver'
import { abilitiesOf } from '../src/lsp/abilities.ts'
import { capabilitiesOf } from '../src/lsp/feature.ts'
import { FEATURES } from '../src/lsp/features.ts'

/** Modules of the library that hold one feature each which no other rests on, and what a server says of itself that answers it. */
const ANSWERED: Readonly<Record<string, (server: ServerCapabilities) => unknown>> = {
  callHierarchy: (server) => server.callHierarchyProvider,
  colorProvider: (server) => server.colorProvider,
  declaration: (server) => server.declarationProvider,
  implementation: (server) => server.implementationProvider,
  inlineCompletion: (server) => server.inlineCompletionProvider,
  inlineValue: (server) => server.inlineValueProvider,
  linkedEditingRange: (server) => server.linkedEditingRangeProvider,
  signatureHelp: (server) => server.signatureHelpProvider,
  textDocumentContent: (server) => server.workspace?.textDocumentContent,
  typeDefinition: (server) => server.typeDefinitionProvider,
  typeHierarchy: (server) => server.typeHierarchyProvider,
}

/** A feature that says nothing to a server and does nothing in the editor. */
const ABSENT = `class Absent { fillClientCapabilities() {} initialize() {} getState() { return { kind: 'static' } } clear() {} }\n`

/** Patterns as our server has them: names, '*', '?' and folders of any depth. */
const PATTERNS = `exports.Minimatch = class {
  constructor(glob) {
    const parts = glob.match(/\\*\\*\\/|[*?]|[^*?]+/g)
    if (/[[\\]{}()!]/.test(glob)) throw new Error('no pattern of ours: ' + glob)
    const ways = { '**/': '(?:.*/)?', '*': '[^/]*', '?': '[^/]' }
    this.way = new RegExp('^' + parts.map((part) => ways[part] ?? part.replace(/[.+^$|\\\\]/g, '\\\\$&')).join('') + '$')
  }
  makeRe() { return this.way }
  match(path) { return this.way.test(path) }
}\n`

export const leanClient: Plugin = {
  name: 'lean-client',
  setup({ onLoad, onResolve }) {
    const able = abilitiesOf({ capabilities: { textDocument: { diagnostic: {} } } } as never)
    const server = capabilitiesOf(FEATURES, able)
    onResolve({ filter: /^minimatch$/ }, () => ({ path: 'minimatch', namespace: 'patterns' }))
    onLoad({ filter: /.*/, namespace: 'patterns' }, () => ({ contents: PATTERNS, loader: 'js' }))
    onLoad({ filter: /vscode-languageclient[\\/]lib[\\/]common[\\/]\w+\.js$/ }, ({ path }) => {
      const answers = ANSWERED[basename(path, '.js')]
      if (answers === undefined || answers(server)) return undefined
      const [, feature] = /^exports\.(\w+) = \1;/m.exec(readFileSync(path, 'utf8')) ?? []
      if (feature === undefined) return { errors: [{ text: `${path}: the feature is not exported as in other modules` }] }
      return { contents: `${ABSENT}exports.${feature} = Absent\n`, loader: 'js' }
    })
  },
}
