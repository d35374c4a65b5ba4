// What is offered where the cursor or a selection stands: fixes of findings, and edits that mend none.
import type { CodeAction, CodeActionParams } from 'vscode-languageserver'
import { extractBases } from '../workspace/extracting.ts'
import { fillOpen } from '../workspace/starting.ts'
import { type Feature, request } from './feature.ts'
import { CodeActionKind } from './protocol.ts'
import { type Chosen, daysOffered, ofDayChosen } from './that-day.ts'
import { toCodeAction, toSpan } from './to-proto.ts'

export const actions: Feature = {
  capability: ({ resolvesActions }) => ({
    codeActionProvider: {
      codeActionKinds: ['quickfix', 'refactor', CodeActionKind.SourceFixAll],
      ...(resolvesActions && { resolveProvider: true }),
    },
  }),
  requests: {
    // `trusted` is of our own client: whether git may be run.
    'textDocument/codeAction': request<CodeActionParams & { trusted?: boolean | null }>(
      { textDocument: 'document', range: 'range', context: 'group', trusted: 'flag?' },
      async ({ textDocument, range, context, trusted }, session, token) => {
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
        return session.reply(textDocument.uri, token, async ({ file, positions }) => {
          const span = toSpan(positions, range)
          const actions = [...analysis.actions(file, span), ...(filled ? [filled] : []), ...(bases ?? [])]
            .filter((action) => action.refused === undefined || able.disabledActions)
            .map((action) => toCodeAction(action, papers, context.diagnostics, able))
          const days = trusted ? await daysOffered(textDocument.uri, file, span, session) : []
          return [...actions, ...days].filter((action) => wanted(action.kind, only))
        })
      },
    ),
    'codeAction/resolve': request<CodeAction>({ data: 'group?' }, async (action, session, token) =>
      action.data
        ? ((await session.reply((action.data as Chosen).uri, token, ({ file }) => ofDayChosen(action, file, session))) ?? action)
        : action,
    ),
  },
}

const wanted = (kind: string | undefined, only: readonly string[] | undefined): boolean =>
  !only || only.some((one) => within(kind ?? '', one))

/** Whether a kind is another, or a part of it. */
const within = (kind: string, of: string): boolean => kind === of || kind.startsWith(`${of}.`)
