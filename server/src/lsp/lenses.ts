// Who uses a stock, a printer or an instrument, above its name; what to do and to record, above the sections of a profile. A click shows where, or
// records, for clients that say by which command of theirs.
import type { CodeLens, CodeLensParams, Command, Position } from 'vscode-languageserver'
import { usedBy } from '../features/lenses.ts'
import { type Asked, aboutDocument, type Feature, request } from './feature.ts'
import { type Against, followsFrom, isChanged } from './review.ts'
import type { Session } from './session.ts'
import { toRange } from './to-proto.ts'

/** A comparison of two versions takes a tenth of a second and more: it waits until nobody has typed or asked for so many milliseconds. */
const CALM = 1200

/** What a lens without words is looked up by. */
interface Data {
  readonly uri: string
  readonly gainIn?: string
  /** What the text is compared with. */
  readonly follows?: Against
}

export const lenses: Feature = {
  capability: { codeLensProvider: { resolveProvider: true } },
  requests: {
    // `trusted` is of our own client: whether git may be run.
    'textDocument/codeLens': aboutDocument<CodeLensParams & { trusted?: boolean | null }, CodeLens[]>(
      { trusted: 'flag?' },
      async ({ textDocument: { uri }, trusted }, at) => {
        // First: while a file is read the text may become another.
        const own = lensesOf(uri, at)
        return [...(await aboveAll(uri, at, trusted === true)), ...own]
      },
    ),
    'codeLens/resolve': request<CodeLens>({ range: 'range', data: 'document' }, (lens, session, token) => {
      const { uri, gainIn, follows } = lens.data as Data
      return session.reply(uri, token, async ({ file, positions }) => {
        if (follows) {
          let calm = false
          while (!calm && !token.isCancellationRequested) calm = await session.publisher.isCalm(CALM)
          const words = calm ? await followsFrom(file, follows, session) : undefined
          const [short, long] = FOLLOWS[follows]
          const title = words === undefined ? `What follows from ${long}` : `${short}: ${words}`
          return { ...lens, command: { title, command: session.able.reviewCommand ?? '', arguments: [follows] } }
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

const FOLLOWS: Readonly<Record<Against, readonly [short: string, long: string]>> = {
  saved: ['Unsaved', 'what is not saved'],
  commit: ['Since the last commit', 'what is not committed'],
}

/** At the head of a document that is not as its file or the last commit has it: what follows from it, told where somebody looks, and the review behind it. */
async function aboveAll(uri: string, { file, session }: Asked, trusted: boolean): Promise<CodeLens[]> {
  if (session.able.reviewCommand === undefined) return []
  const start = { line: 0, character: 0 }
  const against = [
    ...((await isChanged(file, session)) ? (['saved'] as const) : []),
    ...(trusted && session.sinceCommit.has(file) ? (['commit'] as const) : []),
  ]
  return against.map((follows) => ({ range: { start, end: start }, data: { uri, follows } satisfies Data }))
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
