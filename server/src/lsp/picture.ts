// A profile's pictures for a panel beside its text, with where in the documents each part of them stands: a request of our own.
import type { Range } from 'vscode-languageserver'
import { type Asked, aboutDocument, type Feature } from './feature.ts'
import { toRange } from './to-proto.ts'

interface PictureAnswer {
  readonly title: string
  /** HTML without a script, and the style sheet for a panel of an editor. */
  readonly body: string
  readonly style: string
  /** By the address of a part on the page. */
  readonly places: readonly { readonly id: string; readonly uri: string; readonly range: Range }[]
}

export const picture: Feature = {
  capability: {},
  requests: {
    // Null for a document that is no profile.
    'rollbook/picture': aboutDocument<Parameters, PictureAnswer | null>({}, (_, at) => answerOf(at)),
  },
}

type Parameters = { readonly textDocument: { readonly uri: string } }

async function answerOf({ file, session }: Asked): Promise<PictureAnswer | null> {
  const drawn = session.analysis.picture(file)
  if (!drawn) return null
  const { title, body, style, places } = drawn
  const texts = await session.workspace.texts(places.map(({ at }) => at.file))
  const positions = new Map([...texts].map(([name, text]) => [name, session.texts.positions(name, text)]))
  return {
    title,
    body,
    style,
    places: places.flatMap(({ id, at }) => {
      const there = positions.get(at.file)
      return there ? [{ id, uri: session.texts.uri(at.file), range: toRange(there, at.span) }] : []
    }),
  }
}
