// The language server: registers the features on a connection, and answers hello with what is registered.
import type { Connection, InitializeParams } from 'vscode-languageserver'
import type { Host } from '../host/host.ts'
import { capabilitiesOf } from './feature.ts'
import { FEATURES } from './features.ts'
import { Manners } from './manners.ts'
import { Session } from './session.ts'
import { readSettings } from './settings.ts'

/** Serves a connection. `onShut` hears when the client has said that it will go. */
export function serve(connection: Connection, host: Host, version: string, onShut: () => void = () => undefined): void {
  const session = new Session(
    {
      tell: (method, params) => void connection.sendNotification(method, params),
      ask: (method, params) => (params ? connection.sendRequest(method, params) : connection.sendRequest(method)),
      register: (method, options) => connection.client.register(method as never, options as never),
    },
    host,
  )
  const taken = (method: string, work: void | Promise<void>): void => {
    work?.catch((error) => host.log('error', `${method}: ${error.stack}`))
  }
  const manners = new Manners((message) => host.log('error', message))
  connection.onInitialize((params) =>
    manners.hello(() => {
      session.greet({ ...params, capabilities: params.capabilities ?? {} } as InitializeParams)
      const capabilities = { positionEncoding: session.texts.encoding, ...capabilitiesOf(FEATURES, session.able) }
      return { capabilities, serverInfo: { name: 'rollbook', version } }
    }),
  )
  connection.onInitialized((params) =>
    manners.notification('initialized', {}, params ?? {}, () => {
      session.watching.documents()
      void readSettings(session)
      void session.addFolders(session.folders)
    }),
  )
  for (const { requests, notifications } of FEATURES) {
    for (const [method, { needs, answer }] of Object.entries(requests ?? {})) {
      connection.onRequest(method, (params, token) => manners.request(needs, params, () => answer(params, session, token)))
    }
    for (const [method, { needs, take }] of Object.entries(notifications ?? {})) {
      connection.onNotification(method, (params) =>
        manners.notification(method, needs, params, () => void taken(method, take(params, session))),
      )
    }
  }
  connection.onShutdown(() => manners.goodbye(onShut) as undefined)
  connection.listen()
}
