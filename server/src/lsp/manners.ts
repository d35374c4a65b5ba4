// What the protocol asks of a client: messages in their order, and requests that carry what they need. Whoever does not keep to it is told
// so in plain words, and costs nobody else an answer.
import { type Connection, ErrorCodes, type InitializeParams, ResponseError } from 'vscode-languageserver'

type Handler = (params: unknown, ...rest: readonly unknown[]) => unknown

/** What the parameters of a message must be, by the name of the connection's method or of our own request. */
const NEEDS: Readonly<Record<string, Shape>> = {
  onHover: { textDocument: 'document', position: 'position' },
  onCompletion: { textDocument: 'document', position: 'position' },
  onDefinition: { textDocument: 'document', position: 'position' },
  onReferences: { textDocument: 'document', position: 'position' },
  onCodeAction: { textDocument: 'document', range: 'range', context: 'group' },
  onDocumentSymbol: { textDocument: 'document' },
  inlayHint: { textDocument: 'document', range: 'range' },
  'rollbook/feedReckoning': { uri: 'text' },
  'rollbook/explain': { topic: 'text?', kind: 'text?', uri: 'text?', position: 'position?' },
  'rollbook/start': { uri: 'text', stock: 'text?', printer: 'text?', mode: 'text?', id: 'text?' },
  onDidOpenTextDocument: { textDocument: 'opened' },
  onDidChangeTextDocument: { textDocument: 'document', contentChanges: 'changes' },
  onDidCloseTextDocument: { textDocument: 'document' },
  onDidChangeWatchedFiles: { changes: 'files' },
  onDidChangeConfiguration: {},
  'workspace/didChangeWorkspaceFolders': { event: 'folders' },
}

const NOTIFICATION = /^onDid|^onInitialized$|\/did/

type Shape = Readonly<Record<string, keyof typeof KINDS | `${keyof typeof KINDS}?`>>

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null
const isText = (value: unknown): value is string => typeof value === 'string'
const isPosition = (value: unknown): boolean =>
  isGroup(value) && typeof value.line === 'number' && typeof value.character === 'number'
const isRange = (value: unknown): boolean => isGroup(value) && isPosition(value.start) && isPosition(value.end)
const isDocument = (value: unknown): value is Readonly<Record<string, unknown>> => isGroup(value) && isText(value.uri)
const areDocuments = (value: unknown): boolean => Array.isArray(value) && value.every(isDocument)

const KINDS = {
  text: { is: isText, words: 'a text' },
  group: { is: isGroup, words: 'an object' },
  document: { is: isDocument, words: 'an object with a uri' },
  opened: { is: (value: unknown) => isDocument(value) && isText(value.text), words: 'an object with a uri and a text' },
  position: { is: isPosition, words: 'a line and a character' },
  range: { is: isRange, words: 'a start and an end, each a line and a character' },
  changes: {
    is: (value: unknown) =>
      Array.isArray(value) && value.every((c) => isGroup(c) && isText(c.text) && (c.range === undefined || isRange(c.range))),
    words: 'a list of changes, each with its text',
  },
  files: { is: areDocuments, words: 'a list of files, each with its uri' },
  folders: {
    is: (value: unknown) => isGroup(value) && areDocuments(value.added) && areDocuments(value.removed),
    words: 'lists of the folders added and removed, each with its uri',
  },
} as const

/** What is wrong with parameters, in words; undefined where nothing is. */
function faultOf(name: string, params: unknown): string | undefined {
  const needs = NEEDS[name]
  if (needs === undefined) return undefined
  if (!isGroup(params)) return 'its parameters are missing'
  for (const [key, kind] of Object.entries(needs)) {
    const value = params[key]
    const { is, words } = KINDS[kind.replace('?', '') as keyof typeof KINDS]
    if (is(value) || (kind.endsWith('?') && (value === undefined || value === null))) continue
    return value === undefined ? `'${key}' is missing: ${words}` : `'${key}' is not ${words}`
  }
  return undefined
}

/** The connection as a server may use it without a thought for order and shape. Notifications out of order, or without what they need, are left out. */
export function withManners(connection: Connection, log: (message: string) => void, onShut: () => void): Connection {
  let phase: 'before' | 'open' | 'over' = 'before'

  const guarded =
    (name: string, handler: Handler): Handler =>
    (params, ...rest) => {
      const fault = phase === 'open' ? faultOf(name, params) : undefined
      if (phase === 'open' && fault === undefined) return handler(params, ...rest)
      const [code, words] =
        phase === 'before'
          ? [ErrorCodes.ServerNotInitialized, 'The server waits for the request initialize first.']
          : phase === 'over'
            ? [ErrorCodes.InvalidRequest, 'The server was told to shut down.']
            : [ErrorCodes.InvalidParams, `The request cannot be answered: ${fault}.`]
      if (!NOTIFICATION.test(name)) return new ResponseError(code, words)
      log(`a message (${name.replace(/^on/, '')}) is left out: ${fault ?? words}`)
      return undefined
    }

  const initialize =
    (handler: Handler): Handler =>
    (params, ...rest) => {
      if (phase !== 'before') return new ResponseError(ErrorCodes.InvalidRequest, 'The server is initialized already.')
      phase = 'open'
      return handler({ ...(params as InitializeParams), capabilities: (params as InitializeParams).capabilities ?? {} }, ...rest)
    }

  connection.onShutdown(() => {
    if (phase !== 'open') return guarded('shutdown', () => null)(undefined) as undefined
    phase = 'over'
    onShut()
    return undefined
  })

  const inlayHint = {
    ...connection.languages.inlayHint,
    on: (handler: Handler) => connection.languages.inlayHint.on(guarded('inlayHint', handler) as never),
  }
  const languages = new Proxy(connection.languages, {
    get: (target, name) => (name === 'inlayHint' ? inlayHint : Reflect.get(target, name)),
  })
  return new Proxy(connection, {
    get(target, name: keyof Connection) {
      if (name === 'languages') return languages
      if (name === 'onInitialize') return (handler: Handler) => target.onInitialize(initialize(handler) as never)
      if (name === 'onRequest' || name === 'onNotification')
        return (method: string, handler: Handler) =>
          (target[name] as (method: string, handler: Handler) => unknown)(method, guarded(method, handler))
      if (name === 'onInitialized' || name in NEEDS)
        return (handler: Handler) => (target[name] as (handler: Handler) => unknown)(guarded(name, handler))
      return Reflect.get(target, name)
    },
  })
}
