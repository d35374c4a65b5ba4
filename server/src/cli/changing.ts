// What `rollbook set` and `rollbook record` have in common: the document that is named, and its new text, of which is told what follows before it is written. A
// value that the format, the stock or the printer does not allow is not written, nor one of which nobody can tell.
import { resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import type { RollDocument } from '../model/document.ts'
import { ID_KEY } from '../model/facts.ts'
import { withTexts } from '../review/open-texts.ts'
import { pageOf } from '../review/page.ts'
import { review, type Side, sideOf } from '../review/review.ts'
import { reviewText } from '../review/text.ts'
import { type Bench, demandName, documentAt, openBench } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { fails } from './review.ts'
import { printable, styleOf } from './terminal.ts'
import { unreadOf } from './unjudged.ts'

export interface Changing {
  readonly bench: Bench
  readonly file: string
  readonly document: RollDocument
  /** What was given as KEY=VALUE, in its order. */
  readonly given: readonly (readonly [key: string, value: string])[]
  /** What was given beside it. */
  readonly words: readonly string[]
}

/** Reads the arguments and the document they name, whole. */
export async function openChanging(cli: CliHost, command: string, options: Options): Promise<Changing> {
  const [named, ...rest] = options.positionals
  const cells = rest.flatMap((one) => {
    const at = one.indexOf('=')
    return at < 1 ? [] : [[one.slice(0, at).trim(), one.slice(at + 1).trim()] as const]
  })
  const empty = cells.find(([, value]) => value === '')
  if (named === undefined || cells.length === 0)
    throw new CannotRun(`rollbook ${command} takes a document, and KEY=VALUE for each value.${seeHelp(command)}`)
  if (empty) throw new CannotRun(`${empty[0]} has no value. Nothing is written.`)
  if (/\p{Cc}/u.test(rest.join(''))) throw new CannotRun('A value stands on one line. Nothing is written.')
  const bench = openBench(cli)
  const file = await documentFile(cli, bench, named)
  const document = await bench.workspace.load(file)
  await bench.workspace.prepare(file)
  const [unread] = document
    ? bench.workspace.partsOf(document).flatMap((part) => unreadOf(bench, part))
    : [{ text: `${bench.shown(file)} cannot be read: ${bench.workspace.whyUnreadable(file) ?? 'it is no document of ours.'}` }]
  if (!document || unread) throw new CannotRun(`Nothing is written: ${unread?.text}`)
  return { bench, file, document, given: cells, words: rest.filter((one) => one.indexOf('=') < 1) }
}

/** A document by its file, or by its id in the shop of the current folder. */
async function documentFile(cli: CliHost, bench: Bench, argument: string): Promise<string> {
  demandName(argument)
  const path = resolve(cli.cwd, argument)
  const kind = await cli.look(path)
  if (kind === 'folder') throw new CannotRun(`'${argument}' is a folder: name one document in it.`)
  if (kind === 'file') {
    const file = documentAt(path, argument)
    await bench.addShopsOf(path, 'file')
    return file
  }
  await bench.addShopsOf(cli.cwd, 'folder')
  const ids = bench.workspace.everything().flatMap(({ file, kind, values }) => {
    const id = kind === 'shop' ? undefined : values[ID_KEY[kind]]?.text
    return id === undefined ? [] : [{ file, id }]
  })
  const found = ids.filter(({ id }) => id === argument).map(({ file }) => file)
  if (found.length > 1)
    throw new CannotRun(
      `More than one document is named '${argument}': ${found.map(bench.shown).sort().join(' and ')}. Name the file.`,
    )
  if (found.length === 1) return found[0]!
  const meant = nearestOrHolding(
    argument,
    ids.map(({ id }) => id),
  )
  throw new CannotRun(
    `There is no document '${argument}' here, and no such file.${meant === undefined ? '' : ` Do you mean '${meant}'?`}`,
  )
}

/** Tells what follows from a document's new text, and writes it where it may be. Gives the exit code. */
export async function writeChange(
  cli: CliHost,
  { bench, file, document }: Changing,
  after: string,
  isTry: boolean,
): Promise<number> {
  const { host } = bench.workspace
  const root = `${fileUri(await bench.addShopsOf(fileURLToPath(file), 'file')).replace(/\/$/, '')}/`
  const before: Side = { name: 'as it was', root, analysis: bench.analysis, failures: [] }
  const like = { side: before, differing: new Set([file]) }
  const side = await sideOf('as written now', withTexts(host, new Map([[file, after]])), root, like, [
    ...bench.workspace.unmerged,
  ])
  const changed = [decodeURIComponent(file.slice(root.length))]
  const date = host.today()
  const set = await review({ before, after: side, changed, date })
  const refused = set.findings.flatMap(({ course, severity, file: at, message }) => {
    const isOwn = at === changed[0]
    return course === 'begins' && severity === 'error' && (isOwn || document.kind === 'media')
      ? [isOwn ? message : `${at}: ${message}`]
      : []
  })
  // What could not be told before, and can be told now, is in nobody's way.
  const untold = set.notCompared.length > 0 ? (await review({ before: side, after: side, changed, date })).notCompared : []
  const why = refused.length > 0 ? refused : [...bench.troubles, ...untold]
  if (why.length > 0) throw new CannotRun(`Nothing is written. ${why.join(' ')}`)
  if (!isTry) await cli.rewrite(file, document.text, after)
  // What is to be done comes first, and what follows after it.
  const toDo = set.findings.filter(({ course, file: at }) => course === 'begins' && at === changed[0])
  const { bold } = styleOf(cli)
  if (toDo.length > 0) cli.out(`${toDo.map(({ message }) => bold(printable(message))).join('\n')}\n\n`)
  cli.out(reviewText(pageOf(set, { all: false }), bold))
  cli.err(
    printable(`${bench.shown(file)} ${isTry ? 'would be changed; nothing is written' : 'is changed; nothing else in it is'}.`) +
      '\n',
  )
  return fails(set, 'finding') ? EXIT.findings : EXIT.clean
}
