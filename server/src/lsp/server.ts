// The language server: registers the features on a talk, and answers hello with what is registered.
import type { InitializeParams } from 'vscode-languageserver'
import type { Host } from '../host/host.ts'
import { capabilitiesOf } from './feature.ts'
import { FEATURES } from './features.ts'
import { Manners } from './manners.ts'
import { Session } from './session.ts'
import { readSettings } from './settings.ts'
import type { Talk } from './talk.ts'

/** Whoever runs the server hears how the talk goes. */
export interface Life {
  /** The client has said hello; `client` is the number of its process, where it has one. */
  greeted?(client: unknown): void
  /** The client has said that it will go. */
  shut?(): void
  /** The client wants the server to end. */
  exit?(): void
}

/** Serves a client. */
export function serve(talk: Talk, host: Host, version: string, life: Life = {}): void {
  const session = new Session(talk, host)
  const manners = new Manners((message) => host.log('error', message))
  const taken = async (method: string, work: () => void | Promise<void>): Promise<void> => {
    try {
      await work()
    } catch (error) {
      host.log('error', `${method}: ${(error as Error).stack ?? error}`)
    }
  }
  talk.onRequest('initialize', (params) =>
    manners.hello(() => {
      const hello = (params ?? {}) as InitializeParams
      session.greet({ ...hello, capabilities: hello.capabilities ?? {} })
      life.greeted?.(hello.processId)
      const capabilities = { positionEncoding: session.texts.encoding, ...capabilitiesOf(FEATURES, session.able) }
      return { capabilities, serverInfo: { name: 'rollbook', version } }
    }),
  )
  talk.onNotification('initialized', (params) =>
    manners.notification('initialized', {}, params ?? {}, () => {
      session.watching.documents()
      void readSettings(session)
      void session.addFolders(session.folders)
    }),
  )
  for (const { requests, notifications } of FEATURES) {
    for (const [method, { needs, answer }] of Object.entries(requests ?? {})) {
      talk.onRequest(method, (params, token) => manners.request(needs, params, () => answer(params, session, token)))
    }
    for (const [method, { needs, take }] of Object.entries(notifications ?? {})) {
      talk.onNotification(method, (params) =>
        manners.notification(method, needs, params, () => void taken(method, () => take(params, session))),
      )
    }
  }
  talk.onRequest('shutdown', () => manners.goodbye(() => life.shut?.()))
  talk.onNotification('exit', () => life.exit?.())
  talk.listen()
}
