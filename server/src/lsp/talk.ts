// The talk with a client: requests and answers by JSON-RPC 2.0 over whatever carries messages. All of it that a language server needs.
import { soon } from './turn.ts'

/** What carries messages, whole and in their order. */
export interface Channel {
  listen(take: (message: unknown) => void): void
  send(message: object): void
}

/** Whether somebody still waits for an answer. */
export interface Cancellation {
  readonly isCancellationRequested: boolean
}

export const CODE = {
  invalidRequest: -32600,
  methodNotFound: -32601,
  invalidParams: -32602,
  internal: -32603,
  notInitialized: -32002,
  cancelled: -32800,
  contentModified: -32801,
  failed: -32803,
} as const

/** A request that is answered with an error, in words for whoever wrote the client. */
export class Refusal extends Error {
  constructor(
    readonly code: number,
    message: string,
  ) {
    super(message)
  }
}

type Answer = (params: unknown, token: Cancellation) => unknown
type Id = string | number

interface Message {
  readonly id?: Id | null
  readonly method?: unknown
  readonly params?: unknown
  readonly result?: unknown
  readonly error?: { readonly code?: unknown; readonly message?: unknown } | null
}

export class Talk {
  private readonly requests = new Map<string, Answer>()
  private readonly notifications = new Map<string, (params: unknown) => void>()
  /** Requests of the client that are not answered yet. */
  private readonly open = new Map<Id, { isCancellationRequested: boolean }>()
  /** Requests of ours that are not answered yet. */
  private readonly asked = new Map<Id, { done: (result: never) => void; fail: (error: Error) => void }>()
  private readonly waiting: Message[] = []
  private ids = 0

  constructor(private readonly channel: Channel) {}

  onRequest(method: string, answer: Answer): void {
    this.requests.set(method, answer)
  }

  onNotification(method: string, take: (params: unknown) => void): void {
    this.notifications.set(method, take)
  }

  tell(method: string, params: object): void {
    this.send({ method, params })
  }

  ask<T>(method: string, params?: object): Promise<T> {
    const id = ++this.ids
    return new Promise<T>((done, fail) => {
      this.asked.set(id, { done, fail })
      this.send({ id, method, ...(params && { params }) })
    })
  }

  listen(): void {
    this.channel.listen((message) => this.hear((message ?? {}) as Message))
  }

  /** Messages are handled one a turn, so that what one sets going at once is done before the next; a cancellation overtakes them. */
  private hear(message: Message): void {
    const { id, method, params } = message
    if (method === '$/cancelRequest') {
      const token = this.open.get((params as { id: Id } | undefined)?.id as Id)
      if (token) token.isCancellationRequested = true
      return
    }
    if (isId(id) && typeof method === 'string') this.open.set(id, { isCancellationRequested: false })
    if (this.waiting.push(message) === 1) soon(this.next)
  }

  private readonly next = (): void => {
    try {
      this.handle(this.waiting[0]!)
    } finally {
      this.waiting.shift()
      if (this.waiting.length > 0) soon(this.next)
    }
  }

  private handle({ id, method, params, result, error }: Message): void {
    if (typeof method !== 'string') {
      const asked = isId(id) ? this.asked.get(id) : undefined
      if (!asked) return
      this.asked.delete(id as Id)
      if (error) asked.fail(new Error(String(error.message)))
      else asked.done(result as never)
    } else if (isId(id)) {
      void this.answer(id, method, params)
    } else {
      this.notifications.get(method)?.(params)
    }
  }

  private async answer(id: Id, method: string, params: unknown): Promise<void> {
    try {
      const answer = this.requests.get(method)
      if (!answer) throw new Refusal(CODE.methodNotFound, `Unhandled method ${method}`)
      const result = await answer(params, this.open.get(id)!)
      this.send({ id, result: result ?? null })
    } catch (error) {
      const { message } = error as Error
      const known = error instanceof Refusal
      const words = known ? message : `Request ${method} failed with message: ${message}`
      this.send({ id, error: { code: known ? error.code : CODE.internal, message: words } })
    } finally {
      this.open.delete(id)
    }
  }

  private send(message: object): void {
    this.channel.send({ jsonrpc: '2.0', ...message })
  }
}

const isId = (id: unknown): id is Id => typeof id === 'string' || typeof id === 'number'
