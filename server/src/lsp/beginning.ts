// The request behind the commands that make a new document: what is left to ask, what is wrong with an answer, and in the end the text. Nothing is written here.
import { editBetween } from '../base/text-edit.ts'
import { isNewKind, type NewWish, newDocument, nextQuestions } from '../workspace/beginning.ts'
import { type Feature, request } from './feature.ts'
import { toEdit } from './to-proto.ts'

interface NewParams {
  readonly uri: string
  readonly kind: string
  /** What is answered so far, by the key of the question. */
  readonly answers: Readonly<Record<string, unknown>>
  readonly into?: string | null
  /** Anything but a text: the questions that are left. */
  readonly make?: string | null
}

export const beginning: Feature = {
  capability: {},
  requests: {
    // `uri` is any document of the shop, or the rollbook.yaml that shall be. With `make`: the document, as a new file or as edits of the one that is there.
    'rollbook/new': request<NewParams>(
      { uri: 'text', kind: 'text', answers: 'group', into: 'text?', make: 'text?' },
      async ({ uri, kind, answers, into, make }, session) => {
        if (!isNewKind(kind)) return { refused: `Nothing new is made of the kind '${kind}'.`, questions: [], faults: [] }
        const at = session.unsaved.fileOf(uri)
        await session.load(at)
        const wish = { kind, given: givenIn(answers), ...(into && { into }) }
        if (typeof make !== 'string') return nextQuestions(session.workspace, at, wish)
        const made = await newDocument(session.workspace, at, wish)
        if (!made.ok) return made
        const { file, before, text, problems, remarks, open } = made
        const positions = session.papers.positions(file)
        const edits = before === undefined ? undefined : [toEdit(editBetween(before, text), positions)]
        return {
          uri: session.papers.uri(file),
          ...(edits ? { edits } : { text }),
          problems,
          remarks,
          open: open.map(({ key }) => key),
        }
      },
    ),
  },
}

/** What is no text and no list of texts is left out: nothing was typed that way. */
function givenIn(answers: NewParams['answers']): NewWish['given'] {
  const given = new Map<string, string | readonly string[]>()
  for (const [key, answer] of Object.entries(answers))
    if (typeof answer === 'string') given.set(key, answer)
    else if (Array.isArray(answer))
      given.set(
        key,
        answer.filter((item): item is string => typeof item === 'string'),
      )
  return given
}
