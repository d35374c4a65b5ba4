// Where what a name stands for is written, and who names it.
import type { Location, ReferenceParams, TextDocumentPositionParams } from 'vscode-languageserver'
import { aboutDocument, type Feature } from './feature.ts'

export const definition: Feature = {
  capability: { definitionProvider: true },
  requests: {
    'textDocument/definition': aboutDocument<TextDocumentPositionParams, Location[]>(
      { position: 'position' },
      ({ position }, { file, positions, session }) =>
        session.locations(session.analysis.definition(file, positions.offset(position))),
    ),
  },
}

export const references: Feature = {
  capability: { referencesProvider: true },
  requests: {
    'textDocument/references': aboutDocument<ReferenceParams, Location[]>(
      { position: 'position', context: 'group?' },
      async ({ position, context }, { file, positions, session }) =>
        session.locations(
          await session.analysis.references(file, positions.offset(position), context?.includeDeclaration === true),
        ),
    ),
  },
}
