// What is offered where the cursor or a selection stands: fixes of findings, and edits that mend none.
import type { CodeActionKind, CodeActionParams } from 'vscode-languageserver'
import { fillOpen } from '../workspace/starting.ts'
import { type Feature, request } from './feature.ts'
import { toCodeAction, toSpan } from './to-proto.ts'

export const actions: Feature = {
  capability: { codeActionProvider: { codeActionKinds: ['quickfix', 'refactor'] } },
  requests: {
    'textDocument/codeAction': request<CodeActionParams>(
      { textDocument: 'document', range: 'range', context: 'group' },
      async ({ textDocument, range, context }, session, token) => {
        const { analysis, able, papers } = session
        // The profiles to borrow from have to be read first.
        const filled = await session.reply(textDocument.uri, token, ({ file, positions }) =>
          fillOpen(analysis, file, toSpan(positions, range)),
        )
        return session.reply(textDocument.uri, token, ({ file, positions }) =>
          [...analysis.actions(file, toSpan(positions, range)), ...(filled ? [filled] : [])]
            .filter((action) => action.refused === undefined || able.disabledActions)
            .map((action) => toCodeAction(action, papers, context.diagnostics, able))
            .filter((action) => wanted(action.kind, context.only)),
        )
      },
    ),
  },
}

const wanted = (kind: CodeActionKind | undefined, only: readonly CodeActionKind[] | undefined): boolean =>
  !only || only.some((o) => kind === o || kind?.startsWith(`${o}.`))
