// How the language client is set up. Loaded only when the server is first needed, since the protocol is most of the extension's code.
import type * as vscode from 'vscode'
import {
  CloseAction,
  CodeActionRequest,
  ErrorAction,
  LanguageClient,
  RevealOutputChannelOn,
  State,
  TransportKind,
} from 'vscode-languageclient/node'
import { LANGUAGE } from './language.ts'
import { RECORD } from './record.ts'
import { SHOW_REFERENCES } from './show-references.ts'
import { moveSnippets } from './snippet-edits.ts'
import { EXPLANATION_PAGE } from './views.ts'

export type { LanguageClient }

export interface Events {
  readonly running: () => void
  /** The server is gone, or the talk with it is beyond repair. */
  readonly ended: () => void
}

/** Damaged messages in a row that are put up with before the connection counts as lost. */
const DAMAGED_MESSAGES = 3

/** A client that is used for one life of the server: it never restarts it by itself. */
export function createClient(module: string, log: vscode.LogOutputChannel, events: Events): LanguageClient {
  const run = { module, transport: TransportKind.ipc }
  const debug = { ...run, options: { execArgv: ['--nolazy', '--inspect=6017'] } }
  const client = new QuietClient(
    LANGUAGE,
    'Rollbook',
    { run, debug },
    {
      // The left side of a comparison and other documents without a home are not judged.
      documentSelector: ['file', 'untitled', 'vscode-vfs'].map((scheme) => ({ language: LANGUAGE, scheme })),
      initializationOptions: {
        explanationPage: EXPLANATION_PAGE,
        referencesCommand: SHOW_REFERENCES,
        shopView: true,
        recordCommand: RECORD,
      },
      synchronize: { configurationSection: LANGUAGE },
      diagnosticCollectionName: LANGUAGE,
      outputChannel: log,
      revealOutputChannelOn: RevealOutputChannelOn.Never,
      // Texts of a document reach the hover: they may name no command and bring no HTML.
      markdown: { isTrusted: false, supportHtml: false },
      middleware: {
        async sendRequest(type, param, token, next) {
          const result = await next(type, param, token)
          const method = typeof type === 'string' ? type : type.method
          if (method === CodeActionRequest.method && Array.isArray(result)) moveSnippets(result)
          return result
        },
      },
      initializationFailedHandler: () => false,
      // Findings come as they are typed; of documents that are not open they come unasked for.
      diagnosticPullOptions: { onChange: true },
      errorHandler: {
        error(error, _message, count) {
          log.error(error)
          return { action: (count ?? 0) <= DAMAGED_MESSAGES ? ErrorAction.Continue : ErrorAction.Shutdown, handled: true }
        },
        closed() {
          events.ended()
          return { action: CloseAction.DoNotRestart, handled: true, message: 'The language server ended unexpectedly.' }
        },
      },
    },
  )
  client.onDidChangeState(({ newState }) => {
    if (newState === State.Running) events.running()
  })
  return client
}

/** Writes its troubles into the log only: what a person must know of them, `Server` says in their words. */
class QuietClient extends LanguageClient {
  override error(message: string, data?: unknown): void {
    super.error(message, data, false)
  }
}
