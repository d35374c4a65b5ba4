// Which profile builds on which: upwards what it is based on, downwards what is based on it.
import type {
  TypeHierarchyItem,
  TypeHierarchyPrepareParams,
  TypeHierarchySubtypesParams,
  TypeHierarchySupertypesParams,
} from 'vscode-languageserver'
import { basesOf, heirsOf, profilesAt } from '../features/hierarchy.ts'
import type { Facts } from '../model/facts.ts'
import type { Shelf } from '../model/shelf.ts'
import { aboutDocument, type Feature, request } from './feature.ts'
import { SymbolKind } from './protocol.ts'
import type { Session } from './session.ts'

export const hierarchy: Feature = {
  capability: { typeHierarchyProvider: true },
  requests: {
    'textDocument/prepareTypeHierarchy': aboutDocument<TypeHierarchyPrepareParams, TypeHierarchyItem[]>(
      { position: 'position' },
      ({ position }, { file, positions, session }) => {
        const context = session.analysis.context(file)
        return items(session, context ? profilesAt(context, positions.offset(position)) : [])
      },
    ),
    'typeHierarchy/supertypes': request<TypeHierarchySupertypesParams>({ item: 'document' }, ({ item }, session) =>
      beside(item, session, basesOf),
    ),
    'typeHierarchy/subtypes': request<TypeHierarchySubtypesParams>({ item: 'document' }, ({ item }, session) =>
      beside(item, session, heirsOf),
    ),
  },
}

async function beside(
  { uri }: TypeHierarchyItem,
  session: Session,
  find: (shelf: Shelf, facts: Facts) => readonly Facts[],
): Promise<TypeHierarchyItem[]> {
  session.publisher.wait()
  await session.workspace.settled()
  const file = session.unsaved.fileOf(uri)
  const shelf = session.workspace.shelf(file)
  return items(
    session,
    [...shelf.all('media')].filter((facts) => facts.file === file).flatMap((facts) => find(shelf, facts)),
  )
}

async function items(session: Session, found: readonly Facts[]): Promise<TypeHierarchyItem[]> {
  const named = found.flatMap(({ file, values: { profile, title } }) =>
    profile ? [{ file, span: profile, name: profile.text, detail: title?.text }] : [],
  )
  const places = new Map((await session.locations(named)).map((place) => [place.uri, place.range]))
  return named.flatMap(({ file, name, detail }) => {
    const uri = session.texts.uri(file)
    const range = places.get(uri)
    return range ? [{ name, kind: SymbolKind.Class, ...(detail && { detail }), uri, range, selectionRange: range }] : []
  })
}
