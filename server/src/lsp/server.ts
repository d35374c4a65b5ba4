// The language server: registers the features on a connection, and answers hello with what is registered.
import { type MessageConnection, ParameterStructures, RequestType } from 'vscode-jsonrpc'
import type { InitializeParams } from 'vscode-languageserver'
import type { Revisions } from '../host/revisions.ts'
import type { OwnHost } from './client-files.ts'
import { capabilitiesOf } from './feature.ts'
import { FEATURES } from './features.ts'
import { Manners } from './manners.ts'
import { Session } from './session.ts'
import { readSettings } from './settings.ts'

/** Whoever runs the server hears how the talk goes. */
export interface Life {
  /** The client has said hello; `client` is the number of its process, where it has one. */
  greeted?(client: unknown): void
  /** The client has said that it will go. */
  shut?(): void
  /** The client wants the server to end. */
  exit?(): void
}

/** Serves a client; `revisions` are asked only where the client says that a person trusts the folder. */
export function serve(
  connection: MessageConnection,
  host: OwnHost,
  version: string,
  life: Life = {},
  revisions?: Pick<Revisions, 'of' | 'whole' | 'unmerged'>,
): void {
  const session = new Session(connection, host, revisions)
  const manners = new Manners((message) => host.log('error', message))
  const taken = async (method: string, work: () => void | Promise<void>): Promise<void> => {
    try {
      await work()
    } catch (error) {
      host.log('error', `${method}: ${(error as Error).stack ?? error}`)
    }
  }
  connection.onRequest(named('initialize'), (params) =>
    manners.hello(() => {
      const hello = (params ?? {}) as InitializeParams
      session.greet({ ...hello, capabilities: hello.capabilities ?? {} })
      life.greeted?.(hello.processId)
      const capabilities = { positionEncoding: session.texts.encoding, ...capabilitiesOf(FEATURES, session.able) }
      return { capabilities, serverInfo: { name: 'rollbook', version } }
    }),
  )
  connection.onNotification('initialized', (params) =>
    manners.notification('initialized', {}, params ?? {}, () => {
      session.watching.documents()
      void readSettings(session)
      void session.addFolders(session.folders)
    }),
  )
  for (const { requests, notifications } of FEATURES) {
    for (const [method, { needs, answer }] of Object.entries(requests ?? {})) {
      connection.onRequest(named(method), (params, token) => manners.request(needs, params, () => answer(params, session, token)))
    }
    for (const [method, { needs, take }] of Object.entries(notifications ?? {})) {
      connection.onNotification(method, (params) =>
        manners.notification(method, needs, params, () => void taken(method, () => take(params, session))),
      )
    }
  }
  connection.onRequest('shutdown', () => manners.goodbye(() => life.shut?.()))
  connection.onNotification('exit', () => life.exit?.())
  connection.listen()
}

/** A request whose parameters have names. The library refuses others. */
const named = (method: string): RequestType<unknown, unknown, void> => new RequestType(method, ParameterStructures.byName)
