// Keeps the table of methods and clients in DEVELOPERS.md to what the server answers, by the features that it is made of, and to what clients declare.
import { readdirSync, readFileSync } from 'node:fs'
import type { InitializeParams } from 'vscode-languageserver'
import { asksFor, CLIENTS } from './clients.ts'

const FILE = 'DEVELOPERS.md'
const [BEGIN, END] = ['<!-- methods, by npm run gen -->\n', '<!-- end of methods -->']
const ROOT = new URL('../../', import.meta.url)
const LSP = new URL('../src/lsp/', import.meta.url)
const CLIENT = new URL('../../client/src/', import.meta.url)

/** The one whose sources are here: it alone asks for what is our own. */
const OURS = 'VS Code'

/** Imported late: what the features rest on may have been written a moment before. */
export async function generateMethodsTable(): Promise<{ path: string; text: string }[]> {
  const [{ abilitiesOf }, { capabilitiesOf }, { FEATURES }] = await Promise.all([
    import('../src/lsp/abilities.ts'),
    import('../src/lsp/feature.ts'),
    import('../src/lsp/features.ts'),
  ])
  const able = (textDocument: object) => abilitiesOf({ capabilities: { textDocument } } as InitializeParams)
  const [least, pulling] = [able({}), able({ diagnostic: {} })]
  const fileOf = await filesByFeature()
  const ours = readdirSync(CLIENT).map((name) => readFileSync(new URL(name, CLIENT), 'utf8'))
  const rows = FEATURES.flatMap((feature) => {
    const [always, told] = [least, pulling].map((one) => Object.keys(capabilitiesOf([feature], one)))
    const names = told!.map((name) => (always!.includes(name) ? `\`${name}\`` : `\`${name}\`, to clients that ask for findings`))
    const own = (method: string): boolean => method.startsWith('rollbook/')
    return Object.entries({ ...feature.requests, ...feature.notifications }).map(([method, { needs }]) => {
      const carries = Object.entries(needs).map(([key, kind]) => (kind.endsWith('?') ? `${key}?` : key))
      const from = own(method) ? 'our own: whoever asks' : names.join(', ') || 'the client, unasked'
      const asked = Object.entries(CLIENTS).map(([name, client]) =>
        (own(method) ? name === OURS && ours.some((text) => text.includes(`'${method}'`)) : asksFor(client, method))
          ? 'yes'
          : '–',
      )
      return `| \`${method}\` | ${carries.join(', ') || '–'} | ${from} | ${fileOf.get(feature)} | ${asked.join(' | ')} |`
    })
  })
  const clients = Object.entries(CLIENTS).map(
    ([name, { version }]) => `${name}${name === OURS ? ', also in a browser' : ''}: ${version}`,
  )
  const head = ['method', 'what it must carry', 'told of by', 'file', ...clients]
  const table = `| ${head.join(' | ')} |\n|${' --- |'.repeat(head.length)}\n${rows.join('\n')}\n`
  const text = readFileSync(new URL(FILE, ROOT), 'utf8')
  const [before, rest] = text.split(BEGIN)
  const after = rest?.split(END)[1]
  if (after === undefined) throw new Error(`${FILE} has no place for the table of methods: ${BEGIN}${END}`)
  return [{ path: FILE, text: `${before}${BEGIN}\n${table}\n${END}${after}` }]
}

async function filesByFeature(): Promise<ReadonlyMap<unknown, string>> {
  const names = readdirSync(LSP).filter((name) => name.endsWith('.ts'))
  const modules = await Promise.all(names.map(async (name) => [name, await import(new URL(name, LSP).href)] as const))
  return new Map(modules.flatMap(([name, module]) => Object.values(module as object).map((value) => [value, name] as const)))
}
