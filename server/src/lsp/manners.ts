// What the protocol asks of a client: messages in their order, and requests that carry what they need. Whoever does not keep to it is told
// so in plain words, and costs nobody else an answer.
import { ErrorCodes, ResponseError } from 'vscode-jsonrpc'

/** What the parameters of a message must be: the kind of each key. */
export type Shape = Readonly<Record<string, keyof typeof KINDS | `${keyof typeof KINDS}?`>>

const isGroup = (value: unknown): value is Readonly<Record<string, unknown>> => typeof value === 'object' && value !== null
const isText = (value: unknown): value is string => typeof value === 'string'
const isPosition = (value: unknown): boolean =>
  isGroup(value) && typeof value.line === 'number' && typeof value.character === 'number'
const isRange = (value: unknown): boolean => isGroup(value) && isPosition(value.start) && isPosition(value.end)
const isDocument = (value: unknown): value is Readonly<Record<string, unknown>> => isGroup(value) && isText(value.uri)
const areDocuments = (value: unknown): boolean => Array.isArray(value) && value.every(isDocument)

const KINDS = {
  text: { is: isText, words: 'a text' },
  texts: { is: (value: unknown) => Array.isArray(value) && value.every(isText), words: 'a list of texts' },
  flag: { is: (value: unknown) => typeof value === 'boolean', words: 'true or false' },
  group: { is: isGroup, words: 'an object' },
  document: { is: isDocument, words: 'an object with a uri' },
  opened: { is: (value: unknown) => isDocument(value) && isText(value.text), words: 'an object with a uri and a text' },
  position: { is: isPosition, words: 'a line and a character' },
  positions: {
    is: (value: unknown) => Array.isArray(value) && value.every(isPosition),
    words: 'a list of positions, each a line and a character',
  },
  range: { is: isRange, words: 'a start and an end, each a line and a character' },
  changes: {
    is: (value: unknown) =>
      Array.isArray(value) && value.every((c) => isGroup(c) && isText(c.text) && (c.range === undefined || isRange(c.range))),
    words: 'a list of changes, each with its text',
  },
  results: {
    is: (value: unknown) => areDocuments(value) && (value as { value?: unknown }[]).every(({ value }) => isText(value)),
    words: 'a list of results, each with its uri and value',
  },
  files: { is: areDocuments, words: 'a list of files, each with its uri' },
  renames: {
    is: (value: unknown) => Array.isArray(value) && value.every((f) => isGroup(f) && isText(f.oldUri) && isText(f.newUri)),
    words: 'a list of files, each with its old and its new uri',
  },
  folders: {
    is: (value: unknown) => isGroup(value) && areDocuments(value.added) && areDocuments(value.removed),
    words: 'lists of the folders added and removed, each with its uri',
  },
} as const

/** What is wrong with parameters, in words; undefined where nothing is. */
function faultOf(needs: Shape, params: unknown): string | undefined {
  if (!isGroup(params)) return 'its parameters are missing'
  for (const [key, kind] of Object.entries(needs)) {
    const value = params[key]
    const { is, words } = KINDS[kind.replace('?', '') as keyof typeof KINDS]
    if (is(value) || (kind.endsWith('?') && (value === undefined || value === null))) continue
    return value === undefined ? `'${key}' is missing: ${words}` : `'${key}' is not ${words}`
  }
  return undefined
}

const OUT_OF_ORDER = {
  before: { code: ErrorCodes.ServerNotInitialized, words: 'The server waits for the request initialize first.' },
  over: { code: ErrorCodes.InvalidRequest, words: 'The server was told to shut down.' },
} as const

/** Stands before the handlers, which need no thought for order and shape. Notifications out of order, or without what they need, are left out. */
export class Manners {
  private phase: 'before' | 'open' | 'over' = 'before'

  constructor(private readonly log: (message: string) => void) {}

  hello<T>(answer: () => T): T {
    if (this.phase !== 'before') throw new ResponseError(ErrorCodes.InvalidRequest, 'The server is initialized already.')
    this.phase = 'open'
    return answer()
  }

  goodbye(shut: () => void): void {
    this.demandOrder()
    this.phase = 'over'
    shut()
  }

  request(needs: Shape, params: unknown, answer: () => unknown): unknown {
    this.demandOrder()
    const fault = faultOf(needs, params)
    if (fault !== undefined) throw new ResponseError(ErrorCodes.InvalidParams, `The request cannot be answered: ${fault}.`)
    return answer()
  }

  private demandOrder(): void {
    if (this.phase === 'open') return
    const { code, words } = OUT_OF_ORDER[this.phase]
    throw new ResponseError(code, words)
  }

  notification(method: string, needs: Shape, params: unknown, take: () => void): void {
    const fault = this.phase === 'open' ? faultOf(needs, params) : OUT_OF_ORDER[this.phase].words
    if (fault === undefined) take()
    else this.log(`a message (${method}) is left out: ${fault}`)
  }
}
