// What the work at hand does to prints, with what is typed and not saved: the review of the command line for a panel, by a request of our own. The saved
// version needs no history; older ones are read by git, where the server has one, and only in a folder that the client says a person trusts.
import { isUnsaved, lastPart } from '../base/uri.ts'
import { type History, NoHistory } from '../host/revisions.ts'
import type { ChangeSet } from '../review/change-set.ts'
import { reviewBody } from '../review/html.ts'
import { otherThan, withTexts } from '../review/open-texts.ts'
import { type At, type Page, pageOf, shortOf } from '../review/page.ts'
import { type Compared, review as compare, filesOf, sideOf } from '../review/review.ts'
import { sinceCommit } from '../review/since.ts'
import { kindOfFile } from '../schema/schema.ts'
import { type Feature, request } from './feature.ts'
import type { Session } from './session.ts'

interface ReviewParams {
  /** Any document of the shop, or a place where one would be. */
  readonly uri: string
  /** 'saved', 'commit' (the last one) or 'main' (where the work left the main branch). */
  readonly against: string
  readonly trusted?: boolean | null
  /** Also what is the same and written anew, and what moves by less than is shown. */
  readonly all?: boolean | null
}

/** Where a link of the page leads: to a document, to its line, to its earlier text, or, with both, to the two side by side. */
interface Lead {
  readonly uri?: string
  /** From 0. */
  readonly line?: number
  /** For `rollbook/textBefore`. */
  readonly before?: { readonly uri: string; readonly at: string }
}

interface ReviewAnswer {
  readonly title: string
  /** HTML without a script; the addresses of its links are '#' and a place in `leads`. */
  readonly body: string
  readonly leads: readonly Lead[]
}

interface Refused {
  readonly refused: string
}

export const review: Feature = {
  capability: {},
  requests: {
    'rollbook/review': request<ReviewParams>(
      { uri: 'text', against: 'text', trusted: 'flag?', all: 'flag?' },
      (params, session) => orRefused(session, () => reviewOf(params, session)),
    ),
    // One document as it was: `at` is of an answer to `rollbook/review`.
    'rollbook/textBefore': request<{ uri: string; at: string; trusted?: boolean | null }>(
      { uri: 'text', at: 'text', trusted: 'flag?' },
      ({ uri, at, trusted }, session) =>
        orRefused(session, async () => ({ text: await textBefore(session.unsaved.fileOf(uri), at, trusted === true, session) })),
    ),
  },
}

/** Why there is no answer, as a sentence for a person. */
class Refusal extends Error {}

async function orRefused<T>(session: Session, work: () => Promise<T>): Promise<T | Refused> {
  try {
    return await work()
  } catch (error) {
    const { message } = error as Error
    if (error instanceof Refusal || error instanceof NoHistory) return { refused: message }
    session.host.log('error', (error as Error).stack ?? String(error))
    return { refused: `The review failed inside Rollbook: ${message}. The log says where.` }
  }
}

/** In larger shops a comparison takes longer than a line above a text is worth: there it is made when somebody asks for it. */
const SMALL = 500

/** Whether a document's text is another than the saved one. */
export async function isChanged(file: string, { host, texts }: Session): Promise<boolean> {
  const own = texts.all().find((one) => one.file === file)
  return own !== undefined && !isUnsaved(file) && (await otherThan(host, new Map([[file, own.text]]))).size > 0
}

/** What a document is compared with for the line above it. */
export type Against = 'saved' | 'commit'

/**
 * What follows from all that is typed in a shop and not saved, or not committed, in a line; undefined where nothing is, or it takes too long to tell. While
 * something is not saved git is not asked for a line: then every pause in typing would run it.
 */
export async function followsFrom(file: string, against: Against, session: Session): Promise<string | undefined> {
  const root = await rootOf(file, session)
  if (session.workspace.everything().length > SMALL) return undefined
  const unsaved = await otherThan(session.host, textsIn(root, session))
  if (unsaved.size > 0 !== (against === SAVED)) return undefined
  // Trusted, since the line is there for who trusts the folder alone.
  const set = await orRefused(session, async () =>
    compare((await COMPARED.get(against)!({ root, unsaved, trusted: true, session })).compared),
  )
  return 'refused' in set ? undefined : shortOf(set)
}

const textsIn = (root: string, { texts }: Session): ReadonlyMap<string, string> =>
  new Map(texts.all().flatMap(({ file, text }) => (file.startsWith(root) && !isUnsaved(file) ? [[file, text]] : [])))

async function reviewOf({ uri, against, trusted, all }: ReviewParams, session: Session): Promise<ReviewAnswer> {
  const file = session.unsaved.fileOf(uri)
  if (isUnsaved(file) || uri.startsWith('untitled:'))
    throw new Refusal('This text has no file yet, so that there is no earlier version of it: save it first.')
  const root = await rootOf(file, session)
  const open = session.texts.all().filter((text) => text.file.startsWith(root))
  const unsaved = await otherThan(session.host, textsIn(root, session))
  const comparing = COMPARED.get(against)
  if (!comparing) throw new Refusal(`There is no version '${against}' to compare with: ${[...COMPARED.keys()].join(', ')}.`)
  const { compared, at } = await comparing({ root, unsaved, trusted: trusted === true, session })
  const set = await compare(compared)
  const without = open.filter((text) => isUnsaved(text.file)).map((text) => lastPart(text.uri).replace(/^untitled:/, ''))
  const page = pageOf(withoutFiles(set, without), { all: all === true, more: "'Show everything'" })
  return answerOf(page, compared, at, session)
}

interface Wanted {
  readonly root: string
  /** The open texts that are not what is on the disk. */
  readonly unsaved: ReadonlyMap<string, string>
  readonly trusted: boolean
  readonly session: Session
}

interface Found {
  readonly compared: Compared
  /** What the earlier version is asked for by. */
  readonly at: string
}

const SAVED = 'saved'

const COMPARED: ReadonlyMap<string, (wanted: Wanted) => Promise<Found>> = new Map([
  [SAVED, withSaved],
  ['commit', (wanted: Wanted) => withCommit(wanted, async (history) => ['the last commit', await history.commit('HEAD')])],
  [
    'main',
    (wanted: Wanted) =>
      withCommit(wanted, async (history) => {
        const main = await history.mainBranch()
        return [`${main} (as it was when left)`, await history.parting(main)]
      }),
  ],
])

async function withSaved({ root, unsaved, session: { host } }: Wanted): Promise<Found> {
  if (unsaved.size === 0) throw new Refusal('Nothing is unsaved in this shop: every open document is as its file is.')
  const differing = new Set(unsaved.keys())
  const after = await sideOf(nameOf(unsaved), withTexts(host, unsaved), root)
  const before = await sideOf('what is saved', host, root, { side: after, differing })
  const changed = [...differing].map((file) => decodeURIComponent(file.slice(root.length)))
  return { compared: { before, after, changed, date: host.today() }, at: SAVED }
}

async function withCommit(
  { root, unsaved, trusted, session }: Wanted,
  start: (history: History) => Promise<readonly [name: string, commit: string]>,
): Promise<Found> {
  const { host } = session
  const history = await historyOf(root, trusted, session)
  if (!(await history.begun()))
    throw new Refusal('Nothing is committed here yet, so that there is no earlier version to compare with.')
  const [name, commit] = await start(history)
  const date = host.today()
  const files = new Set([...(await history.changedSince(commit, 'disk')), ...unsaved.keys()])
  if (unsaved.size > 0) {
    // What was undone in the editor, and not saved, is as it was.
    const other = await otherThan(await history.hostAt(commit, date, new Set(unsaved.keys())), unsaved)
    for (const file of unsaved.keys()) if (!other.has(file)) files.delete(file)
  }
  const unmerged = await session.revisions!.unmerged(root)
  const after = { host: withTexts(host, unsaved), name: nameOf(unsaved), unmerged }
  return { compared: await sinceCommit(history, { commit, name, root, after, files: [...files], date }), at: commit }
}

const nameOf = (unsaved: ReadonlyMap<string, string>): string =>
  unsaved.size > 0 ? 'the work tree with what is not saved' : 'the work tree'

async function historyOf(root: string, trusted: boolean, { revisions }: Session): Promise<History> {
  if (!revisions || !root.startsWith('file:'))
    throw new Refusal('There is no git here to ask for older versions: compare with what is saved.')
  if (!trusted)
    throw new Refusal('Git is run only in a folder that you trust: trust this one first, or compare with what is saved.')
  return revisions.of(root)
}

async function rootOf(file: string, session: Session): Promise<string> {
  await session.load(file)
  await session.workspace.settled()
  return session.workspace.shopFolder(file)
}

async function textBefore(file: string, at: string, trusted: boolean, session: Session): Promise<string> {
  if (!kindOfFile(file)) throw new Refusal('This is no document of a shop.')
  if (at === SAVED) return session.host.read(file)
  const history = await historyOf(await rootOf(file, session), trusted, session)
  return (await history.hostAt(await history.commit(at), session.host.today(), new Set([file]))).read(file)
}

/** What has no file is in no version, and is said to be left out. */
function withoutFiles(set: ChangeSet, names: readonly string[]): ChangeSet {
  const notCompared = [...set.notCompared, ...names.map((name) => `${name} has no file yet, and is not compared. Save it first.`)]
  return { ...set, notCompared, totals: { ...set.totals, notCompared: notCompared.length } }
}

function answerOf(page: Page, compared: Compared, at: string, session: Session): ReviewAnswer {
  const [before, after] = [filesOf(compared.before), filesOf(compared.after)]
  const leads: Lead[] = []
  const address = (lead: Lead): string => `#${leads.push(lead) - 1}`
  const leadsFrom = ({ file, line, whole }: At): { to?: string; compare?: string } => {
    const [was, is] = [before.get(whole ? (whole.before ?? '') : file), after.get(file)]
    const old = was === undefined ? undefined : { uri: session.texts.uri(was), at }
    if (is === undefined) return old ? { to: address({ before: old }) } : {}
    const uri = session.texts.uri(is)
    const to = address({ uri, ...(line !== undefined && { line: line - 1 }) })
    return whole && old ? { to, compare: address({ uri, before: old }) } : { to }
  }
  return { title: page.title, body: reviewBody(page, leadsFrom), leads }
}
