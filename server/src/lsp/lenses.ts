// Who uses a stock, a printer or an instrument, above its name; what to do and to record, above the sections of a profile. A click shows where, or
// records, for clients that say by which command of theirs.
import type { CodeLens, CodeLensParams, Command, Position } from 'vscode-languageserver'
import { usedBy } from '../features/lenses.ts'
import { type Asked, aboutDocument, type Feature, request } from './feature.ts'
import { followsFrom, isChanged } from './review.ts'
import type { Session } from './session.ts'
import { toRange } from './to-proto.ts'

/** A comparison of two versions takes a tenth of a second and more: it waits until nobody has typed or asked for so many milliseconds. */
const CALM = 1200

/** What a lens without words is looked up by. */
interface Data {
  readonly uri: string
  readonly gainIn?: string
  readonly follows?: true
}

export const lenses: Feature = {
  capability: { codeLensProvider: { resolveProvider: true } },
  requests: {
    'textDocument/codeLens': aboutDocument<CodeLensParams, CodeLens[]>({}, async ({ textDocument: { uri } }, at) => {
      // First: while a file is read the text may become another.
      const own = lensesOf(uri, at)
      return [...(await aboveAll(uri, at)), ...own]
    }),
    'codeLens/resolve': request<CodeLens>({ range: 'range', data: 'document' }, (lens, session, token) => {
      const { uri, gainIn, follows } = lens.data as Data
      return session.reply(uri, token, async ({ file, positions }) => {
        if (follows) {
          let calm = false
          while (!calm && !token.isCancellationRequested) calm = await session.publisher.isCalm(CALM)
          const words = calm ? await followsFrom(file, session) : undefined
          const title = words === undefined ? 'What follows from what is not saved' : `Unsaved: ${words}`
          return { ...lens, command: { title, command: session.able.reviewCommand ?? '', arguments: ['saved'] } }
        }
        if (gainIn !== undefined) {
          const { title, why } = session.analysis.gain(file, gainIn) ?? { title: '', why: '' }
          return { ...lens, command: { ...wordsAlone(title), tooltip: why } }
        }
        const found = await session.analysis.references(file, positions.offset(lens.range.start))
        const profiles = new Set(found.map((place) => place.file))
        const title = usedBy(profiles.size) + session.shopFindings.troubled(profiles)
        return { ...lens, command: commandOf(session, title, uri, lens.range.start) }
      })
    }),
  },
}

/** At the head of a document that is not as its file is: what follows from it, told where somebody looks, and the review behind it. */
async function aboveAll(uri: string, { file, session }: Asked): Promise<CodeLens[]> {
  if (session.able.reviewCommand === undefined || !(await isChanged(file, session))) return []
  const start = { line: 0, character: 0 }
  return [{ range: { start, end: start }, data: { uri, follows: true } satisfies Data }]
}

function lensesOf(uri: string, { file, positions, session }: Asked): CodeLens[] {
  return session.analysis.lenses(file).flatMap(({ span, title, about, users = [] }): CodeLens[] => {
    const range = toRange(positions, span)
    if (title === undefined) return [{ range, data: { uri, ...('gainIn' in about && about) } satisfies Data }]
    if ('words' in about) return [{ range, command: wordsAlone(title) }]
    if ('uses' in about || 'gainIn' in about)
      return [{ range, command: commandOf(session, title + session.shopFindings.troubled(users), uri, range.start) }]
    const command = session.able.recordCommand
    return command === undefined ? [] : [{ range, command: { title, command, arguments: [about.records, uri] } }]
  })
}

const wordsAlone = (title: string): Command => ({ title, command: '' })

/** Words alone, where there is no command to show the places by. */
function commandOf({ able }: Session, title: string, uri: string, position: Position): Command {
  const command = able.referencesCommand
  return command === undefined ? wordsAlone(title) : { title, command, arguments: [uri, position] }
}
