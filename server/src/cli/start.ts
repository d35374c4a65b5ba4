// A new profile for a stock on a printer, on standard output or into a new file: `rollbook new profile`, and by its old name `rollbook start`.
import { dirname, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { choicesOf, start as startIn } from '../workspace/starting.ts'
import { type Bench, openBench, shopAbove, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'
import { unreadOf } from './unjudged.ts'

/** What a profile is started from. */
export interface StartWish {
  readonly stock: string
  readonly printer: string
  readonly mode?: string | undefined
  readonly id?: string | undefined
  /** A new file, or `-` for standard output; undefined for a file where the shop's profiles are. */
  readonly out: string | undefined
}

/** By its old name. */
export async function start(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [stock, printer, out] = [options.word('stock'), options.word('printer'), options.word('out') ?? '-']
  if (stock === undefined || printer === undefined || options.positionals.length > 0)
    throw new CannotRun(`rollbook start takes a stock and a printer: --stock S --printer P.${seeHelp('start')}`)
  const code = await startProfile(cli, { stock, printer, mode: options.word('mode'), id: options.word('id'), out }, at)
  cli.err("'rollbook start' is called 'rollbook new profile' now; the old name goes on working.\n")
  return code
}

/** Starts a profile, and gives the exit code. */
export async function startProfile(cli: CliHost, wish: StartWish, at: (doing: string) => void): Promise<number> {
  const { stock, printer, out } = wish
  if (out !== undefined && out !== '-' && kindOfFile(out) !== 'media')
    throw new CannotRun(`'${out}' is no name for a profile: these are named *.media.yaml.`)
  const toFile = out === undefined || out === '-' ? undefined : out
  const bench = openBench(cli)
  at('looking for the shop')
  const path = toFile === undefined ? cli.cwd : resolve(cli.cwd, toFile)
  // A new file in another shop is read there, with what that shop has; one that lies in none takes the shop one stands in.
  const elsewhere = toFile === undefined ? undefined : await shopAbove(cli, dirname(path))
  const folder = await (elsewhere === undefined ? bench.addShopsOf(cli.cwd, 'folder') : bench.addShopsOf(path, 'file'))
  const place = fileUri(`${folder}/rollbook.yaml`)
  const shop = elsewhere === undefined ? 'The shop of the current folder' : `The shop of ${toFile}`
  for (const [kind, id] of [
    ['stock', stock],
    ['printer', printer],
  ] as const) {
    const missing = notKnown(bench, place, kind, id, shop)
    if (missing === undefined) continue
    // What could not be read may be what was meant.
    tellTroubles(cli, bench)
    throw new CannotRun(missing)
  }
  const doubtful = await notRead(bench, place, { stock, printer })
  if (doubtful.length > 0) throw new CannotRun(`${doubtful.join(' ')} Nothing is started from it before that is settled.`)
  at(`starting a profile for ${stock} on ${printer}`)
  const named = toFile === undefined ? undefined : idOfFile(toFile)
  const id = wish.id ?? named
  if (named !== undefined && id !== named)
    throw new CannotRun(`A profile is named as its file: --id ${id} and --out ${toFile} do not go together.`)
  const started = await startIn(bench.workspace, place, { stock, printer, mode: wish.mode, id, intoBlank: out === '-' })
  if (!started.ok) throw new CannotRun(started.refused)
  if (out === '-') cli.out(started.text)
  else {
    const file = toFile === undefined ? fileURLToPath(started.file) : path
    await (toFile === undefined ? cli.createAll(new Map([[file, started.text]])) : cli.create(path, started.text))
    const shown = toFile ?? bench.shown(started.file)
    cli.err(`${printable(`${shown} is written: ${started.testPrints.length} test prints to make first stand at its top.`)}\n`)
  }
  for (const problem of started.problems) cli.err(`${printable(problem)}\n`)
  tellTroubles(cli, bench)
  return started.problems.length > 0 || bench.workspace.unread(place).length > 0 ? EXIT.findings : EXIT.clean
}

/** What of the documents that every setting rests on is not read, or not whole. */
async function notRead(bench: Bench, place: string, wish: { stock: string; printer: string }): Promise<readonly string[]> {
  const { workspace } = bench
  const shelf = workspace.shelf(place)
  const found = workspace
    .unread(place)
    .filter(({ kind }) => kind === 'shop')
    .map(bench.unreadText)
  const facts = [...shelf.withId('stock', wish.stock), ...shelf.withId('printer', wish.printer), ...shelf.all('shop')]
  for (const { file } of facts) {
    const document = await workspace.load(file)
    if (document) found.push(...unreadOf(bench, document).map(({ text }) => text))
  }
  return found
}

/** Why a shop has no document of an id to start from; undefined where it has. */
function notKnown(bench: Bench, place: string, kind: 'stock' | 'printer', id: string, shop: string): string | undefined {
  const all = choicesOf(bench.workspace.shelf(place), kind).map((choice) => choice.id)
  if (all.includes(id)) return undefined
  const read = bench.workspace.unread(place).length === 0
  if (all.length === 0) return `${shop} has no ${kind}: there is no *.${kind}.yaml${read ? '' : ' that can be read'}.`
  const meant = nearestOrHolding(id, all)
  const there = ` There is ${all.slice(0, MAX_NAMED).join(', ')}${all.length > MAX_NAMED ? ' …' : ''}.`
  return `There is no ${kind} '${id}' here${read ? '' : ' that can be read'}.${meant === undefined ? there : ` Do you mean '${meant}'?`}`
}

const MAX_NAMED = 12

const idOfFile = (file: string): string => file.replace(/^.*[\\/]/, '').replace(/\.media\.yaml$/, '')
