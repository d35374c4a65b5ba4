// What is offered where the cursor or a selection stands: fixes of findings, and edits that mend none.
import type { CodeActionParams } from 'vscode-languageserver'
import { extractBases } from '../workspace/extracting.ts'
import { fillOpen } from '../workspace/starting.ts'
import { type Feature, request } from './feature.ts'
import { CodeActionKind } from './protocol.ts'
import { toCodeAction, toSpan } from './to-proto.ts'

export const actions: Feature = {
  capability: { codeActionProvider: { codeActionKinds: ['quickfix', 'refactor', CodeActionKind.SourceFixAll] } },
  requests: {
    'textDocument/codeAction': request<CodeActionParams>(
      { textDocument: 'document', range: 'range', context: 'group' },
      async ({ textDocument, range, context }, session, token) => {
        const { analysis, able, papers } = session
        const { only } = context
        // Made without asking, so only for who asks for just that.
        if (only?.some((one) => one.startsWith('source')) && only.some((one) => within(CodeActionKind.SourceFixAll, one)))
          return session.reply(textDocument.uri, token, ({ file }) => {
            const all = analysis.fixAll(file)
            return all ? [toCodeAction(all, papers, [], able)] : []
          })
        // The profiles to borrow from have to be read first.
        const filled = await session.reply(textDocument.uri, token, ({ file, positions }) =>
          fillOpen(analysis, file, toSpan(positions, range)),
        )
        const isWanted = able.makesFiles && able.documentChanges && wanted(CodeActionKind.RefactorExtract, only)
        const bases = isWanted
          ? await session.reply(textDocument.uri, token, ({ file, positions }) =>
              extractBases(analysis, file, toSpan(positions, range)),
            )
          : []
        return session.reply(textDocument.uri, token, ({ file, positions }) =>
          [...analysis.actions(file, toSpan(positions, range)), ...(filled ? [filled] : []), ...(bases ?? [])]
            .filter((action) => action.refused === undefined || able.disabledActions)
            .map((action) => toCodeAction(action, papers, context.diagnostics, able))
            .filter((action) => wanted(action.kind, context.only)),
        )
      },
    ),
  },
}

const wanted = (kind: string | undefined, only: readonly string[] | undefined): boolean =>
  !only || only.some((one) => within(kind ?? '', one))

/** Whether a kind is another, or a part of it. */
const within = (kind: string, of: string): boolean => kind === of || kind.startsWith(`${of}.`)
