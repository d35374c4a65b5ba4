// What a feature of the protocol is: the messages it takes, what each must carry, what answers it, and the capability a client is told of.
import type { CancellationToken } from 'vscode-jsonrpc'
import type { ServerCapabilities, TextDocumentIdentifier } from 'vscode-languageserver'
import type { ClientAbilities } from './abilities.ts'
import type { Positions } from './documents.ts'
import type { Shape } from './manners.ts'
import type { Session } from './session.ts'

/** One entry of the table in features.ts. What a client is told of stands with what answers it, so that neither is there without the other. */
export interface Feature {
  /** Empty for messages of our own, and for what a server only listens to. */
  readonly capability: ServerCapabilities | ((able: ClientAbilities) => ServerCapabilities)
  /** By method. */
  readonly requests?: Readonly<Record<string, Request>>
  readonly notifications?: Readonly<Record<string, Notification>>
}

export interface Request {
  readonly needs: Shape
  answer(params: unknown, session: Session, token: CancellationToken): unknown
}

export interface Notification {
  readonly needs: Shape
  take(params: unknown, session: Session): void | Promise<void>
}

/** Where a question is asked. */
export interface Asked {
  readonly file: string
  readonly positions: Positions
  readonly session: Session
}

/** A request about an open document: what it needs is read first, and whatever fails inside is logged and answered with null. */
export const aboutDocument = <P extends { textDocument: TextDocumentIdentifier }, R>(
  needs: Shape,
  answer: (params: P, at: Asked) => R | Promise<R>,
): Request => ({
  needs: { textDocument: 'document', ...needs },
  answer: (params, session, token) =>
    session.reply((params as P).textDocument.uri, token, (at) => answer(params as P, { ...at, session })),
})

/** The same for a question that an earlier text is asked too, on the left of a comparison: what is answered leads to no edit. */
export const aboutText = <P extends { textDocument: TextDocumentIdentifier }, R>(
  needs: Shape,
  answer: (params: P, at: Asked) => R | Promise<R>,
): Request => ({
  needs: { textDocument: 'document', ...needs },
  answer: (params, session, token) => session.read((params as P).textDocument.uri, token, (at) => answer(params as P, at)),
})

export const request = <P>(
  needs: Shape,
  answer: (params: P, session: Session, token: CancellationToken) => unknown,
): Request => ({
  needs,
  answer: (params, session, token) => answer(params as P, session, token),
})

export const notification = <P>(needs: Shape, take: (params: P, session: Session) => void | Promise<void>): Notification => ({
  needs,
  take: (params, session) => take(params as P, session),
})

/** All that a list of features gives a client of these abilities. */
export function capabilitiesOf(features: readonly Feature[], able: ClientAbilities): ServerCapabilities {
  const all: ServerCapabilities = {}
  for (const { capability } of features) {
    const given = typeof capability === 'function' ? capability(able) : capability
    Object.assign(all, given, given.workspace && { workspace: { ...all.workspace, ...given.workspace } })
  }
  return all
}
