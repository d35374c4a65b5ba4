// Findings for clients that ask for them: of one document, and of every document of the shop, open or closed. Whoever asks is told nothing unasked.
import type {
  DocumentDiagnosticParams,
  DocumentDiagnosticReport,
  PreviousResultId,
  WorkspaceDiagnosticParams,
  WorkspaceDiagnosticReport,
} from 'vscode-languageserver'
import { type Feature, request } from './feature.ts'
import { NOTHING, type Told, toldNow } from './told.ts'

export const pull: Feature = {
  capability: ({ pullsFindings }) =>
    pullsFindings
      ? { diagnosticProvider: { identifier: 'rollbook', interFileDependencies: true, workspaceDiagnostics: true } }
      : {},
  requests: {
    'textDocument/diagnostic': request<DocumentDiagnosticParams>(
      { textDocument: 'document' },
      async ({ textDocument: { uri }, previousResultId }, session, token): Promise<DocumentDiagnosticReport> => {
        const told = await session.read(uri, token, async ({ file, session: asked }) => {
          const now = await toldNow(asked, file)
          if (now && asked === session) session.publisher.pulled(file, now.of, now.told)
          session.watching.attached()
          return now?.told ?? NOTHING
        })
        return reportOf(told ?? NOTHING, previousResultId)
      },
    ),
    'workspace/diagnostic': request<WorkspaceDiagnosticParams>(
      { previousResultIds: 'results?' },
      ({ previousResultIds, partialResultToken }, session, token): Promise<WorkspaceDiagnosticReport> =>
        session.shopFindings.answer(previousResultIds ?? ([] as PreviousResultId[]), partialResultToken, token),
    ),
  },
}

export const reportOf = ({ items, mark }: Told, before: string | undefined): DocumentDiagnosticReport =>
  mark === before ? { kind: 'unchanged', resultId: mark } : { kind: 'full', resultId: mark, items: [...items] }
