// `rollbook git lost`: over a history, each merge commit against its parents: which measurement was dropped, doubled or put under another state, and how it
// is brought back. What is in order again by now is told apart.
import { LineIndex } from '../base/line-index.ts'
import { fileUri } from '../host/node.ts'
import { type History, type MergeCommit, type MergedFile, type Merges, NoHistory } from '../host/revisions.ts'
import { isPlain, judgeMerge, NO_FILE, type Read, readVersion } from '../merge/judge-merge.ts'
import type { Loss } from '../merge/lost.ts'
import type { Measurement } from '../merge/measurements.ts'
import { VERSION } from '../version.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { many } from './report/report.ts'
import { printable, styleOf } from './terminal.ts'

interface Found {
  readonly merge: MergeCommit
  readonly path: string
  readonly loss: Loss
  /** Shows the lines as a side had them. */
  readonly command: string
  /** Whether the newest commit of the range has it right again. */
  readonly mended: boolean
}

export async function gitLost(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [, range = 'HEAD', ...others] = options.positionals
  if (others.length > 0) throw new CannotRun(`rollbook git lost takes one range of revisions, as in v1..main.${seeHelp('git')}`)
  at(`reading the merges of ${range}`)
  try {
    const history = await cli.revisions.of(fileUri(cli.cwd))
    const merges = await history.merges(range)
    at('looking for measurements that were lost')
    const { found, notCompared } = await search(history, merges)
    if (options.has('json')) cli.out(`${JSON.stringify(json(merges, found, notCompared), null, 2)}\n`)
    else cli.out(text(cli, range, merges, found, notCompared))
    for (const sentence of notCompared) cli.err(`${printable(sentence)}\n`)
    if (notCompared.length > 0) return EXIT.failed
    return found.some(({ mended }) => !mended) ? EXIT.findings : EXIT.clean
  } catch (error) {
    throw error instanceof NoHistory ? new CannotRun(error.message) : error
  }
}

async function search(
  history: History,
  merges: Merges,
): Promise<{ readonly found: readonly Found[]; readonly notCompared: readonly string[] }> {
  const texts = new Texts(history)
  const found: Omit<Found, 'mended'>[] = []
  const notCompared: string[] = []
  const tasks = merges.commits.flatMap((merge) =>
    merge.files
      .filter((file) => !isPlain(file))
      // Where a file is gone, what it held may be in one that a side has not.
      .map((file) => ({ merge, file, others: file.merged === undefined ? merge.files.filter(isNewSomewhere) : [] })),
  )
  for (let from = 0; from < tasks.length; from += AT_ONCE) {
    const now = tasks.slice(from, from + AT_ONCE)
    texts.forget()
    await texts.need(
      now.flatMap(({ file, others }) => [file.merged, ...file.parents, ...file.bases, ...others.map(({ merged }) => merged)]),
    )
    for (const { merge, file, others } of now) {
      const read = (id: string | undefined): Read => texts.read(id)
      const { losses, unread } = judgeMerge(
        { merged: read(file.merged), parents: file.parents.map(read), bases: file.bases.map(read) },
        () => others.flatMap(({ merged }) => texts.measured(merged)),
      )
      for (const why of unread)
        notCompared.push(
          `${file.path} is not compared in the merge ${short(merge.commit)}: a version of it cannot be judged: ${why}.`,
        )
      for (const loss of losses) found.push({ merge, path: file.path, loss, command: commandFor(merge, file, loss, texts) })
    }
  }
  if (found.length === 0) return { found: [], notCompared }
  const now = await merges.at(merges.tip)
  texts.forget()
  await texts.need([...new Set(found.map(({ path }) => now.get(path)))])
  return {
    found: found.map((one) => ({ ...one, mended: isMended(one.loss, texts.measured(now.get(one.path))) })),
    notCompared,
  }
}

/** How many files are compared before their texts are let go. */
const AT_ONCE = 500

const isNewSomewhere = ({ merged, parents }: MergedFile): boolean => merged !== undefined && parents.includes(undefined)

/** Texts by their ids, fetched many at once and each parsed once. */
class Texts {
  private readonly texts = new Map<string, string | undefined>()
  private readonly reads = new Map<string, Read>()

  constructor(private readonly history: History) {}

  forget(): void {
    this.texts.clear()
    this.reads.clear()
  }

  async need(ids: readonly (string | undefined)[]): Promise<void> {
    const missing = [...new Set(ids)].filter((id): id is string => id !== undefined && !this.texts.has(id))
    if (missing.length === 0) return
    const texts = await this.history.texts(missing)
    for (const id of missing) this.texts.set(id, texts.get(id))
  }

  read(id: string | undefined): Read {
    if (id === undefined) return NO_FILE
    let read = this.reads.get(id)
    if (!read) {
      read = readVersion(this.texts.get(id))
      this.reads.set(id, read)
    }
    return read
  }

  measured(id: string | undefined): readonly Measurement[] {
    const read = this.read(id)
    return read.ok ? read.all : []
  }

  /** The first and the last line, from 1, of what stands in a text. */
  linesOf(id: string | undefined, { span }: Measurement): readonly [number, number] {
    const read = this.read(id)
    const lines = new LineIndex(read.ok ? read.text : '')
    return [lines.position(span.start).line + 1, lines.position(Math.max(span.start, span.end - 1)).line + 1]
  }
}

function commandFor(merge: MergeCommit, { path, parents }: MergedFile, { measurement, parent }: Loss, texts: Texts): string {
  // What one side took out is looked at where another still has it, or where it has come back.
  const side = texts.measured(parents[parent]).includes(measurement)
    ? parent
    : parents.findIndex((id) => texts.measured(id).includes(measurement))
  if (side < 0) return `git show ${short(merge.commit)}:${quoted(path)}`
  const [first, last] = texts.linesOf(parents[side], measurement)
  return `git show ${quoted(`${short(merge.parents[side]!)}:${path}`)} | sed -n '${first === last ? first : `${first},${last}`}p'`
}

/** For a shell, where a name needs it. */
const quoted = (word: string): string => (/^[\w./:@+-]+$/.test(word) ? word : `'${word.replace(/'/g, `'\\''`)}'`)

const short = (commit: string): string => commit.slice(0, 10)

function isMended({ what, measurement }: Loss, now: readonly Measurement[]): boolean {
  const alike = now.filter(({ reading }) => reading === measurement.reading)
  if (what === 'doubled') return alike.length <= 1
  if (what === 'returned') return alike.length === 0
  return alike.some(({ state }) => state === measurement.state)
}

const WHAT: Readonly<Record<Loss['what'], string>> = {
  dropped: 'dropped',
  doubled: 'doubled',
  state: 'put under another state',
  returned: 'there again',
}

function text(cli: CliHost, range: string, { commits }: Merges, found: readonly Found[], notCompared: readonly string[]): string {
  const style = styleOf(cli)
  const open = found.filter(({ mended }) => !mended)
  const lines: string[] = []
  for (const merge of new Set(open.map((one) => one.merge))) {
    lines.push(style.bold(`Merge ${short(merge.commit)} of ${merge.date}: ${printable(merge.subject)}`))
    for (const { path, loss, command } of open.filter((one) => one.merge === merge)) {
      lines.push(
        `  ${printable(path)}`,
        `    ${printable(sentence(loss, merge))}`,
        `    ${WAY[loss.what]}: ${printable(command)}`,
      )
    }
    lines.push('')
  }
  const mended = found.length - open.length
  const looked = `${many(commits.length, 'merge')} of ${printable(range)} looked at${notCompared.length > 0 ? ', and not everything could be compared' : ''}`
  const again =
    mended === 0
      ? ''
      : ` ${many(mended, 'measurement')} more ${mended === 1 ? 'was' : 'were'} lost or doubled once and ${mended === 1 ? 'is' : 'are'} in order now.`
  const result =
    open.length === 0
      ? `nothing is lost or doubled${notCompared.length > 0 ? ' in what was' : ''}.`
      : `${many(open.length, 'measurement')} lost, doubled or put under another state.`
  lines.push(`${looked}: ${result}${again}`)
  return `${lines.join('\n')}\n`
}

const WAY: Readonly<Record<Loss['what'], string>> = {
  dropped: 'bring it back',
  doubled: 'it stood there once',
  state: 'as it was',
  returned: 'look at it',
}

function sentence({ what, measurement, parent, merged }: Loss, { parents }: MergeCommit): string {
  const { words, under } = measurement
  const side = short(parents[parent]!)
  const state = (name: string | undefined): string => (name === undefined ? 'no state' : name)
  if (what === 'dropped') return `dropped: ${words}${under === undefined ? '' : `, under ${under}`}. ${side} had it.`
  if (what === 'doubled') return `doubled: ${words}. It counts twice now.`
  if (what === 'returned') return `there again: ${words}. ${side} had taken it out.`
  const same = under === merged?.under
  return `put under another state: ${words}. ${side} had it under ${state(under)}${same ? ', which says something else now.' : `, now it is under ${state(merged?.under)}.`}`
}

function json({ commits, tip }: Merges, found: readonly Found[], notCompared: readonly string[]): object {
  return {
    version: VERSION,
    tip,
    merges: commits.length,
    lost: found.map(({ merge, path, loss: { what, measurement, parent, merged }, command, mended }) => ({
      what: WHAT[what],
      merge: merge.commit,
      date: merge.date,
      parent: merge.parents[parent],
      file: path,
      kind: measurement.kind.name,
      measurement: measurement.words,
      under: measurement.under ?? null,
      ...(merged && what === 'state' && { now: merged.under ?? null }),
      command,
      mended,
    })),
    notCompared,
  }
}
