// The revision at the foot of a sheet: which commit the documents that it rests on come from, and from those words back to that commit and to what changed since.
import { sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fileUri } from '../host/node.ts'
import { NoHistory } from '../host/revisions.ts'
import type { Setup } from '../model/setup.ts'
import type { ChangeSet } from '../review/change-set.ts'
import { type Compared, review, sideOf } from '../review/review.ts'
import { NO_GIT, NOT_COMMITTED, sheetMarks } from '../review/sheet-mark.ts'
import { type Bench, openBench, shopAbove } from './bench.ts'
import { CannotRun, type CliHost } from './host.ts'
import { profileWithId } from './profile.ts'

/** What stands at the foot of sheets: "banner-510-bay-1 · a1b2c3d". Git is asked once for all of them. */
export function revisionMark(cli: CliHost): (bench: Bench, setup: Setup) => Promise<string> {
  const mark = sheetMarks(cli.revisions)
  return async ({ workspace }, setup) => {
    const path = fileURLToPath(setup.file)
    const folder = (await shopAbove(cli, path.slice(0, path.lastIndexOf(sep)))) ?? cli.cwd
    return mark(workspace, setup, fileUri(folder))
  }
}

export interface Opened {
  readonly bench: Bench
  readonly file: string
  readonly mark: string
  /** What is another since then, of all that the profile rests on. */
  changed(setup: Setup): Promise<{ readonly isOld: boolean; readonly told: readonly string[] }>
}

/** The shop as it was at the revision that a sheet names. Throws `CannotRun` where it names none, or where there is no such profile or revision. */
export async function openedFrom(cli: CliHost, words: string): Promise<Opened> {
  const { id, revision } = namedBy(words)
  const folder = (await shopAbove(cli, cli.cwd)) ?? cli.cwd
  const root = `${fileUri(folder).replace(/\/$/, '')}/`
  const date = cli.host.today()
  try {
    const history = await cli.revisions.of(fileUri(folder))
    const commit = await history.commit(revision)
    const then = await history.hostAt(commit, date)
    const bench = openBench(Object.create(cli, { host: { value: then } }))
    await bench.addShopsOf(folder, 'folder')
    const file = await profileWithId(bench, folder, id)
    return {
      bench,
      file,
      mark: `${id} · ${revision}`,
      async changed() {
        const [before, after] = [await sideOf(revision, then, root), await sideOf('today', cli.host, root)]
        const files = (await history.changedSince(commit, 'disk')).filter((changed) => changed.startsWith(root))
        const changed = files.map((changedFile) => decodeURIComponent(changedFile.slice(root.length)))
        const compared: Compared = { before, after, changed, date }
        return sinceOf(await review(compared), id)
      },
    }
  } catch (error) {
    throw error instanceof NoHistory ? new CannotRun(error.message) : error
  }
}

function namedBy(words: string): { readonly id: string; readonly revision: string } {
  const { id, revision } = /^\s*(?<id>[^\s·@]+)\s*(?:[·@]|\s)\s*(?<revision>\S.*?)\s*$/u.exec(words)?.groups ?? {}
  const asFoot = "what stands at the foot of a sheet, as in 'banner-510-bay-1 · a1b2c3d'"
  if (id === undefined || revision === undefined) throw new CannotRun(`--from takes ${asFoot}; '${words}' is not that.`)
  if (revision === NOT_COMMITTED || revision === NO_GIT)
    throw new CannotRun(
      `That sheet was printed from documents that were ${revision === NO_GIT ? 'not kept in git' : 'not committed yet'}, so that no revision of it can be opened. 'rollbook sheet ${id}' makes today's.`,
    )
  if (!/^[0-9a-f]{4,64}$/i.test(revision)) throw new CannotRun(`--from takes ${asFoot}; '${revision}' is no revision.`)
  return { id, revision }
}

/** Of a review what concerns one profile, as sentences, the number of changes first. */
export function sinceOf(set: ChangeSet, id: string): { readonly isOld: boolean; readonly told: readonly string[] } {
  const about = set.documents.filter(
    ({ document, reaches }) => (document.kind === 'media' && document.id === id) || reaches.includes(id),
  )
  if (about.some(({ document, how }) => document.kind === 'media' && document.id === id && how === 'removed'))
    return { isOld: true, told: [`There is no profile ${id} any more: take the sheet down.`] }
  const profile = set.profiles.find((one) => one.profile === id)
  const changes = about.flatMap(({ document, changes: all }) => {
    const name = document.kind === 'media' && document.id === id ? '' : `${document.id}, `
    return all.map(({ path, before, after, size }) => {
      if (!before) return `${name}${path} is new: ${short(after?.text)}`
      if (!after) return `${name}${path} is gone: it was ${short(before.text)}`
      return `${name}${path} was ${short(before.text)}, and is ${short(after.text)}${size === undefined ? '' : ` (${size})`}`
    })
  })
  const words = (profile?.standings ?? []).flatMap(({ kind, before, after }) =>
    before && after && before.word !== after.word ? `${kind}: ${before.text} then, ${after.text} now` : [],
  )
  const unsure = set.notCompared.length > 0 ? [`Not all could be compared: ${set.notCompared.join(' ')}`] : []
  if (changes.length === 0)
    return {
      isOld: unsure.length > 0,
      told: [...(unsure.length > 0 ? unsure : ['Nothing that this sheet rests on has changed since.'])],
    }
  const old = `${changes.length} change${changes.length === 1 ? '' : 's'} old`
  const shown = changes.slice(0, MOST_TOLD)
  const more = changes.length - shown.length
  return {
    isOld: true,
    told: [`${old}: ${shown.join('; ')}${more > 0 ? `; and ${more} more` : ''}.`, ...words.map((text) => `${text}.`), ...unsure],
  }
}

/** Changes that are told on a sheet; the review tells all. */
const MOST_TOLD = 6

/** A whole check is told by its beginning. */
const short = (text = ''): string => ([...text].length > 60 ? `${[...text].slice(0, 59).join('')}…` : text)
