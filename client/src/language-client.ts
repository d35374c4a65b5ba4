// How the language client is set up. Loaded only when the server is first needed, since the protocol is most of the extension's code.
import * as vscode from 'vscode'
import {
  BaseLanguageClient,
  CloseAction,
  CodeActionRequest,
  CodeLensRequest,
  ErrorAction,
  type InitializeParams,
  type LanguageClientOptions,
  RevealOutputChannelOn,
  type ShutdownMode,
  State,
} from 'vscode-languageclient'
import { answerFiles } from './files.ts'
import { EARLIER, isAtHome, LANGUAGE } from './language.ts'
import { RECORD } from './record.ts'
import { REVIEW } from './review.ts'
import { SHOW_REFERENCES } from './show-references.ts'
import { moveSnippets } from './snippet-edits.ts'
import { ON_NODE, startServer, type Transport } from './transport.ts'
import { EXPLANATION_PAGE } from './views.ts'

export interface Events {
  readonly running: () => void
  /** The server is gone, or the talk with it is beyond repair. */
  readonly ended: () => void
}

/** Damaged messages in a row that are put up with before the connection counts as lost. */
const DAMAGED_MESSAGES = 3

/** A client that is used for one life of the server: it never restarts it by itself. */
export function createClient(dist: vscode.Uri, log: vscode.LogOutputChannel, events: Events): LanguageClient {
  const schemes = homes()
  const client = new LanguageClient(() => startServer(dist, log), schemes, {
    // The left side of a comparison is read too, and judged as what it was; other documents without a home are not.
    documentSelector: [...schemes, 'git', EARLIER].map((scheme) => ({ language: LANGUAGE, scheme })),
    initializationOptions: {
      explanationPage: EXPLANATION_PAGE,
      referencesCommand: SHOW_REFERENCES,
      shopView: true,
      recordCommand: RECORD,
      reviewCommand: REVIEW,
      files: true,
    },
    synchronize: { configurationSection: LANGUAGE },
    diagnosticCollectionName: LANGUAGE,
    outputChannel: log,
    revealOutputChannelOn: RevealOutputChannelOn.Never,
    // Texts of a document reach the hover: they may name no command and bring no HTML.
    markdown: { isTrusted: false, supportHtml: false },
    middleware: {
      async sendRequest(type, param, token, next) {
        const method = typeof type === 'string' ? type : type.method
        const actions = method === CodeActionRequest.method
        // Some are of older documents, for which git is run.
        const asked = actions || method === CodeLensRequest.method ? { ...param!, trusted: vscode.workspace.isTrusted } : param
        const result = await next(type, asked, token)
        if (actions && Array.isArray(result)) moveSnippets(result)
        return result
      },
    },
    initializationFailedHandler: () => false,
    // Findings come as they are typed; of documents that are not open they come unasked for.
    diagnosticPullOptions: { onChange: true },
    errorHandler: {
      error(error, _message, count) {
        log.error(error)
        // A client that the library shuts down for this does not tell that its server ended, as it does when it is killed with messages on their way.
        if ((count ?? 0) > DAMAGED_MESSAGES) events.ended()
        return { action: ErrorAction.Continue, handled: true }
      },
      closed() {
        events.ended()
        return {
          action: CloseAction.DoNotRestart,
          handled: true,
          message: vscode.l10n.t('The language server ended unexpectedly.'),
        }
      },
    },
  })
  answerFiles(client)
  client.onDidChangeState(({ newState }) => {
    if (newState === State.Running) events.running()
  })
  return client
}

/** Where documents have a home: on disk, in no file yet, in a repository that is not cloned, where the open folders are, and wherever else an editor knows files. */
function homes(): readonly string[] {
  const { workspaceFolders = [], textDocuments } = vscode.workspace
  const folders = workspaceFolders.map(({ uri }) => uri.scheme)
  const open = textDocuments.map(({ uri }) => uri).filter(isAtHome)
  return [...new Set(['file', 'untitled', 'vscode-vfs', ...folders, ...open.map(({ scheme }) => scheme)])]
}

/** Milliseconds for a server to end as it was told to. */
const GOODBYE_MS = 2000

/** Writes its troubles into the log only: what a person must know of them, `Server` says in their words. */
export class LanguageClient extends BaseLanguageClient {
  private transport: Transport | undefined

  constructor(
    private readonly connect: () => Promise<Transport>,
    readonly schemes: readonly string[],
    options: LanguageClientOptions,
  ) {
    super(LANGUAGE, 'Rollbook', options)
  }

  override error(message: string, data?: unknown): void {
    super.error(message, data, false)
  }

  protected override async createMessageTransports(): Promise<Transport> {
    this.transport = await this.connect()
    return this.transport
  }

  /** The server ends by itself when this process is gone. */
  protected override fillInitializeParams(params: InitializeParams): void {
    super.fillInitializeParams(params)
    if (ON_NODE) params.processId = process.pid
  }

  protected override async shutdown(mode: ShutdownMode, timeout?: number): Promise<void> {
    const { transport } = this
    this.transport = undefined
    try {
      await super.shutdown(mode, timeout)
    } finally {
      if (transport) setTimeout(() => transport.end(), GOODBYE_MS)
    }
  }
}
