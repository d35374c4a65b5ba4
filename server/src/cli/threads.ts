// `rollbook check --jobs`: documents judged by other threads, a few ahead of what is told. One that ends before it was let go, or never began,
// leaves what it had not told to the first thread: who judges shows in nothing but the time.
import type { Bench } from './bench.ts'
import { CannotRun, type CliHost, type Thread } from './host.ts'
import type { Elsewhere, Made } from './judging.ts'
import { type Options, seeHelp } from './options.ts'
import type { Texts } from './texts.ts'
import type { Known, Told } from './thread.ts'

/** For so many documents each a thread is worth its start, where nobody says how many there shall be; and at most so many are started then. */
const WORTH_A_THREAD = 150
const MOST_UNASKED = 4
const MOST = 64

/** How many documents a thread is given ahead of what it has told, so that it never waits for the first. */
const AHEAD = 4

/** So many verdicts wait at most until they are told. */
const MOST_WAITING = 500

/** How many threads judge so many documents. Throws `CannotRun` for what is no number of them. */
export function jobsFor({ cores = 1 }: CliHost, options: Options, documents: number): number {
  const asked = options.word('jobs')
  if (asked === undefined) return Math.min(cores, MOST_UNASKED, Math.floor(documents / WORTH_A_THREAD))
  const jobs = /^\d{1,9}$/.test(asked) ? Number(asked) : 0
  if (jobs < 1 || jobs > MOST)
    throw new CannotRun(`--jobs takes a whole number from 1 to ${MOST}; '${asked}' is none.${seeHelp('check')}`)
  return Math.min(jobs, documents)
}

/** The shop as it is known here. */
export function knownOf(cli: CliHost, { workspace, roots }: Bench, staged: boolean, keeping: boolean): Known {
  const all = workspace.everything()
  return {
    cwd: cli.cwd,
    env: { ...cli.env },
    today: cli.host.today(),
    staged,
    keeping,
    roots: [...roots()],
    files: all.map(({ file }) => file),
    facts: new Map(all.filter(({ file }) => workspace.whyUnreadable(file) === undefined).map((facts) => [facts.file, facts])),
    unlisted: workspace.unread().flatMap(({ kind, place, reason }) => (kind === 'folder' ? [[place, reason] as const] : [])),
    unmerged: [...workspace.unmerged],
  }
}

/** One thread, and the documents that it has still to tell of. */
interface Working {
  readonly files: Set<string>
  thread?: Thread
}

export class Threads implements Elsewhere {
  private readonly working = new Set<Working>()
  /** What was told of each document that was given to a thread and not asked for yet; undefined while it is judged. */
  private readonly told = new Map<string, Told | 'lost' | undefined>()
  /** Who waits for a document. */
  private readonly waiting = new Map<string, () => void>()
  private next = 0

  constructor(
    private readonly cli: CliHost,
    private readonly bench: Bench,
    /** Where verdicts are kept, the texts they rest on. */
    private readonly texts: Texts | undefined,
    /** In the order in which they will be asked for. */
    private readonly files: readonly string[],
  ) {}

  /** Starts so many, where there can be any: who has none beside it judges all by itself. */
  async start(jobs: number, staged: boolean): Promise<void> {
    const { thread } = this.cli
    if (jobs < 2 || !thread) return
    const known = knownOf(this.cli, this.bench, staged, this.texts !== undefined)
    await Promise.all(Array.from({ length: jobs }, () => this.begin(thread, known)))
  }

  async of(file: string): Promise<Made | undefined> {
    if (!this.told.has(file)) return undefined
    if (this.told.get(file) === undefined) await new Promise<void>((told) => this.waiting.set(file, told))
    const told = this.told.get(file)
    this.told.delete(file)
    this.give()
    if (told === undefined || told === 'lost') return undefined
    for (const text of told.troubles) this.bench.trouble(text)
    for (const [read, name] of told.read) this.texts?.take(read, name)
    return told.verdict && told
  }

  end(): void {
    for (const working of this.working) {
      this.working.delete(working)
      working.thread?.end()
    }
  }

  private async begin(start: NonNullable<CliHost['thread']>, known: Known): Promise<void> {
    const working: Working = { files: new Set() }
    const { files } = working
    this.working.add(working)
    const tell = (told: Told): void => {
      if (files.delete(told.file)) this.take(told.file, told)
      this.give()
    }
    const ended = (why: string): void => {
      if (!this.working.delete(working)) return
      if (this.cli.env.ROLLBOOK_DEBUG)
        this.cli.err(`A thread ended, and what it had still to judge is judged without it: ${why}\n`)
      for (const file of files) this.take(file, 'lost')
    }
    try {
      working.thread = await start(known, tell, ended)
      this.give()
    } catch (error) {
      ended((error as Error).message)
    }
  }

  private give(): void {
    for (const { files, thread } of this.working)
      while (thread && files.size < AHEAD && this.told.size < MOST_WAITING && this.next < this.files.length) {
        const file = this.files[this.next++]!
        files.add(file)
        this.told.set(file, undefined)
        thread.judge(file)
      }
  }

  private take(file: string, told: Told | 'lost'): void {
    this.told.set(file, told)
    this.waiting.get(file)?.()
    this.waiting.delete(file)
  }
}
