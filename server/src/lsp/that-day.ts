// States of an older day for evidence that tells none: offered where git has that day, and made when one is chosen. Git is run only where the client says that
// a person trusts the folder.
import type { CodeAction } from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import { isUnsaved } from '../base/uri.ts'
import { type OfDay, stateOfDay, withoutState } from '../features/that-day.ts'
import { type Line, NoHistory } from '../host/revisions.ts'
import { setupOn } from '../review/that-day.ts'
import { MessageType } from './protocol.ts'
import type { Session } from './session.ts'
import { toCodeAction } from './to-proto.ts'

/** What an action without its edit carries until it is chosen. */
export interface Chosen extends OfDay {
  readonly uri: string
  readonly version: number | null
}

/** `uri` is of the document as the client spells it. */
export async function daysOffered(uri: string, file: string, span: Span, session: Session): Promise<readonly CodeAction[]> {
  const { analysis, able, papers } = session
  const context = analysis.current(file)
  const version = papers.version(file) ?? null
  const without = context && able.resolvesActions ? withoutState(context, span) : []
  const line = without.length > 0 && (await lineOf(file, session).catch(noHistory))
  if (!context || !line) return []
  const offered = await Promise.all(
    without.map(async (one): Promise<readonly CodeAction[]> => {
      if (!(await line.on(one.day).catch(noHistory))) return []
      const { edit: _, ...action } = toCodeAction(stateOfDay(context, one), papers, [], able)
      return [{ ...action, data: { ...one, uri, version } satisfies Chosen }]
    }),
  )
  return offered.flat()
}

/** The action with its edit; as it was, with a sentence for the person, where there is none. */
export async function ofDayChosen(action: CodeAction, file: string, session: Session): Promise<CodeAction> {
  const { analysis, able, papers, workspace } = session
  const { version, path, day } = action.data as Chosen
  try {
    const line = await lineOf(file, session)
    const then = line && (await setupOn(line, workspace.shopFolder(file), file, day))
    const context = analysis.current(file)
    if (!then || !context || (papers.version(file) ?? null) !== version)
      throw new NoHistory('The text was changed meanwhile: choose it again.')
    const made = stateOfDay(context, { path, day }, then)
    if (made.refused !== undefined) throw new NoHistory(made.refused)
    return { ...action, edit: toCodeAction(made, papers, [], able).edit! }
  } catch (error) {
    if (!(error instanceof NoHistory)) throw error
    session.tell('window/showMessage', { type: MessageType.Info, message: error.message })
    return action
  }
}

/** The history of a document's shop; undefined where none can be asked. */
async function lineOf(file: string, { revisions, workspace }: Session): Promise<Line | undefined> {
  const root = workspace.shopFolder(file)
  if (!revisions || !root.startsWith('file:') || isUnsaved(file)) return undefined
  return revisions.whole(root, workspace.shelf(file).shop()?.content?.['time-zone']?.value)
}

function noHistory(error: unknown): undefined {
  if (!(error instanceof NoHistory)) throw error
}
