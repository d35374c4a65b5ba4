// Which methods the clients that we know ask for, by what they declare when they say hello: `clients.json`, recorded from them. Ours is held to it by
// tests/protocol/clients.test.ts, those of other editors by tests/long/editors.test.ts.
import { readFileSync } from 'node:fs'

/** One client, as it was recorded. */
export interface KnownClient {
  readonly version: string
  /** YYYY-MM-DD. */
  readonly recorded: string
  /** As `declaredIn` tells it. */
  readonly declares: readonly string[]
}

export const CLIENTS: Readonly<Record<string, KnownClient>> = JSON.parse(
  readFileSync(new URL('clients.json', import.meta.url), 'utf8'),
)

/** What a client declares, as dotted keys in order: 'textDocument.hover'. What it says it cannot do is not among it. */
export function declaredIn(capabilities: object): readonly string[] {
  const walk = (value: object, path: string): readonly string[] =>
    Object.entries(value).flatMap(([key, inner]) => {
      if (inner === false || inner === null || inner === undefined) return []
      const at = `${path}${key}`
      return [at, ...(typeof inner === 'object' && !Array.isArray(inner) ? walk(inner, `${at}.`) : [])]
    })
  return walk(capabilities, '').toSorted()
}

/** Where what a client declares is not called after the method. */
const DECLARED: Readonly<Record<string, string>> = {
  'textDocument/didOpen': 'textDocument.synchronization',
  'textDocument/didChange': 'textDocument.synchronization',
  'textDocument/didClose': 'textDocument.synchronization',
  'workspace/diagnostic': 'textDocument.diagnostic',
  'codeAction/resolve': 'textDocument.codeAction.resolveSupport',
  'codeLens/resolve': 'textDocument.codeLens',
  'textDocument/prepareRename': 'textDocument.rename.prepareSupport',
  'textDocument/prepareTypeHierarchy': 'textDocument.typeHierarchy',
  'typeHierarchy/supertypes': 'textDocument.typeHierarchy',
  'typeHierarchy/subtypes': 'textDocument.typeHierarchy',
  'textDocument/semanticTokens/full': 'textDocument.semanticTokens.requests.full',
  'textDocument/semanticTokens/full/delta': 'textDocument.semanticTokens.requests.full.delta',
  'textDocument/semanticTokens/range': 'textDocument.semanticTokens.requests.range',
  'workspace/didChangeWorkspaceFolders': 'workspace.workspaceFolders',
  'workspace/didRenameFiles': 'workspace.fileOperations.didRename',
}

/** Whether a client declares that it asks for a method of the protocol. */
export const asksFor = ({ declares }: KnownClient, method: string): boolean =>
  declares.includes(DECLARED[method] ?? method.replace('/', '.'))
