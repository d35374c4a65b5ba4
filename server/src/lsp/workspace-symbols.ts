// Every document of the opened shops by its id and title.
import type * as protocol from 'vscode-languageserver'
import type { SymbolInformation, WorkspaceSymbolParams } from 'vscode-languageserver'
import type { DocumentKind } from '../schema/schema.ts'
import { type Feature, request } from './feature.ts'
import { SymbolKind } from './protocol.ts'
import type { Session } from './session.ts'

const KIND: Readonly<Record<DocumentKind, { readonly symbol: protocol.SymbolKind; readonly word: string }>> = {
  media: { symbol: SymbolKind.Object, word: 'profile' },
  stock: { symbol: SymbolKind.Class, word: 'stock' },
  printer: { symbol: SymbolKind.Module, word: 'printer' },
  shop: { symbol: SymbolKind.Package, word: 'shop' },
}

export const workspaceSymbols: Feature = {
  capability: { workspaceSymbolProvider: true },
  requests: {
    'workspace/symbol': request<WorkspaceSymbolParams>({ query: 'text' }, async ({ query }, session) => find(query, session)),
  },
}

async function find(query: string, session: Session): Promise<SymbolInformation[]> {
  session.publisher.wait()
  await session.workspace.fewRead()
  const found = session.analysis.findDocuments(query)
  const places = new Map((await session.locations(found)).map((location) => [location.uri, location]))
  return found.flatMap(({ name, kind, file }) => {
    const location = places.get(session.texts.uri(file))
    return location ? [{ name, kind: KIND[kind].symbol, containerName: KIND[kind].word, location }] : []
  })
}
