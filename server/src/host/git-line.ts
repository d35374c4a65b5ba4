// A history along the first parents of what is checked out, as git tells it: which commit a day ends with, which changed a file, what a file was called.
import type { Host } from './host.ts'
import { type Commit, type History, type Line, NoHistory } from './revisions.ts'

/** Tells the day of a moment, seconds since 1970. */
type Clock = (seconds: number) => string

/** The calendar of a time zone, or of this computer's. Throws `NoHistory` for a zone that is none. */
export function clock(zone: string | undefined): Clock {
  let format: Intl.DateTimeFormat
  try {
    format = new Intl.DateTimeFormat('en', { timeZone: zone, year: 'numeric', month: '2-digit', day: '2-digit' })
  } catch {
    throw new NoHistory(
      `'${zone}' is no time zone that is known here: give one as Europe/Lisbon, under time-zone in rollbook.yaml.`,
    )
  }
  return (seconds) => {
    const parts = new Map(format.formatToParts(new Date(seconds * 1000)).map(({ type, value }) => [type, value]))
    return `${parts.get('year')!.padStart(4, '0')}-${parts.get('month')}-${parts.get('day')}`
  }
}

/** What each commit is told by: its id, short and whole, its parents, the moment it was made, its subject. */
const FORMAT = '--format=%H%x09%h%x09%P%x09%ct%x09%s'

export class GitLine implements Line {
  private line: readonly Commit[] | undefined

  constructor(
    private readonly history: History,
    /** What git answers; rejects with `NoHistory`. */
    private readonly git: (args: readonly string[]) => Promise<string>,
    /** The working tree, for a person. */
    private readonly top: string,
    /** Files to paths from the top of the working tree, and back. */
    private readonly names: { readonly pathOf: (file: string) => string; readonly fileOf: (path: string) => string },
    private readonly dayOf: Clock,
  ) {}

  hostAt(commit: string, today: string): Promise<Host> {
    return this.history.hostAt(commit, today)
  }

  async commit(revision: string): Promise<Commit> {
    const missing = new NoHistory(
      revision === 'HEAD'
        ? `Nothing is committed yet in the git clone at ${this.top}.`
        : `There is no revision '${revision}' in the git clone at ${this.top}. If it is a branch of another clone, fetch it first.`,
    )
    if (revision === '' || revision.startsWith('-')) throw missing
    const [commit] = await this.log(['--end-of-options', `${revision}^0`, '--'], 1).catch(() => [])
    if (!commit) throw missing
    return commit
  }

  async on(day: string): Promise<Commit> {
    this.line ??= await this.log(['HEAD', '--']).catch(() => [])
    if (this.line.length === 0) await this.commit('HEAD')
    // In the order of the line: a clock that was wrong makes no commit an earlier one.
    const found = this.line.find((commit) => commit.day <= day)
    if (found) return found
    const first = this.line.at(-1)!
    throw new NoHistory(`Nothing was kept in git on ${day}: its first commit, ${first.short}, is of ${first.day}.`)
  }

  async changing(commit: string, files: readonly string[]): Promise<Commit | undefined> {
    return files.length === 0 ? undefined : (await this.log([commit, '--', ...files.map(this.names.pathOf)], 1))[0]
  }

  async bringing(commit: string, file: string): Promise<Commit | undefined> {
    return (await this.log(['--diff-filter=A', '--no-renames', '-m', commit, '--', this.names.pathOf(file)], 1))[0]
  }

  async nameBefore({ id, parent }: Commit, file: string): Promise<string | undefined> {
    if (parent === undefined) return undefined
    const moved = await this.git([
      'diff',
      '--name-status',
      '-z',
      '-M',
      '--diff-filter=R',
      '--no-ext-diff',
      '--no-textconv',
      parent,
      id,
    ])
    const words = moved.split('\0')
    const path = this.names.pathOf(file)
    for (let i = 0; i + 2 < words.length; i += 3) if (words[i + 2] === path) return this.names.fileOf(words[i + 1]!)
    return undefined
  }

  /** Commits along first parents, the newest first; at most so many. */
  private async log(args: readonly string[], most?: number): Promise<readonly Commit[]> {
    const limit = most === undefined ? [] : [`-${most}`]
    const text = await this.git(['log', '--first-parent', '--no-show-signature', '-z', FORMAT, ...limit, ...args])
    return text
      .split('\0')
      .filter((line) => line !== '')
      .map((line) => {
        const [id = '', short = '', parents = '', seconds, ...subject] = line.split('\t')
        return {
          id,
          short,
          day: this.dayOf(Number(seconds)),
          subject: subject.join(' '),
          parent: parents.split(' ')[0] || undefined,
        }
      })
  }
}
