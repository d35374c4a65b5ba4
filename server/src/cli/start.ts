// A new profile for a stock on a printer, on standard output or into a new file: `rollbook new profile`, and by its old name `rollbook start`.
import { dirname, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { choicesOf, type StartAnswer, start as startIn } from '../workspace/starting.ts'
import { type Bench, openBench, shopAbove, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile } from './profile.ts'
import { printable } from './terminal.ts'
import { unreadOf } from './unjudged.ts'

/** What a profile is started from. */
export interface StartWish {
  /** Undefined for that of the profile to be like. */
  readonly stock: string | undefined
  /** At least one; more than one with `like` alone. */
  readonly printers: readonly string[]
  readonly mode?: string | undefined
  readonly id?: string | undefined
  /** A profile, its file or its id, whose settings are carried. */
  readonly like?: string | undefined
  /** A new file, or `-` for standard output; undefined for a file where the shop's profiles are. */
  readonly out: string | undefined
}

/** By its old name. */
export async function start(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const wish = wishIn(options)
  if ((wish.stock ?? wish.like) === undefined || wish.printers.length === 0 || options.positionals.length > 0)
    throw new CannotRun(`rollbook start takes a stock and a printer: --stock S --printer P.${seeHelp('start')}`)
  const severally = wish.printers.length > 1 && wish.out === undefined
  const code = await startProfile(cli, { ...wish, out: wish.out ?? (severally ? undefined : '-') }, at)
  cli.err("'rollbook start' is called 'rollbook new profile' now; the old name goes on working.\n")
  return code
}

/** What the options say by themselves. */
export const wishIn = (options: Options): StartWish => ({
  stock: options.word('stock'),
  printers: [...new Set(options.words('printer'))],
  mode: options.word('mode'),
  id: options.word('id'),
  like: options.word('like'),
  out: options.word('out'),
})

/** Starts a profile, and gives the exit code. */
export async function startProfile(cli: CliHost, wish: StartWish, at: (doing: string) => void): Promise<number> {
  const { printers, out, like, mode } = wish
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
  const liked = like === undefined ? undefined : await likedOf(cli, bench, like, place)
  const stock = wish.stock ?? liked?.stock ?? ''
  if (liked && liked.stock !== stock)
    throw new CannotRun(
      `${like} is on ${liked.stock ?? 'no stock'}: a profile is carried to other printers on its own stock alone.`,
    )
  for (const [kind, id] of [['stock', stock], ...printers.map((one) => ['printer', one] as const)] as const) {
    const missing = notKnown(bench, place, kind, id, shop)
    if (missing === undefined) continue
    // What could not be read may be what was meant.
    tellTroubles(cli, bench)
    throw new CannotRun(missing)
  }
  const doubtful = (await Promise.all(printers.map((one) => notRead(bench, place, { stock, printer: one })))).flat()
  if (doubtful.length > 0) throw new CannotRun(`${doubtful.join(' ')} Nothing is started from it before that is settled.`)
  if (printers.length > 1) return rollOut(cli, bench, wish, { place, stock, like: liked?.file }, at)
  const [printer = ''] = printers
  at(`starting a profile for ${stock} on ${printer}`)
  const named = toFile === undefined ? undefined : idOfFile(toFile)
  const id = wish.id ?? named
  if (named !== undefined && id !== named)
    throw new CannotRun(`A profile is named as its file: --id ${id} and --out ${toFile} do not go together.`)
  const started = await startIn(bench.workspace, place, { stock, printer, mode, id, like: liked?.file, intoBlank: out === '-' })
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

/** The profile to be like, by its file or its id, and its stock. It has to lie in the shop that the new one is for. */
async function likedOf(
  cli: CliHost,
  bench: Bench,
  like: string,
  place: string,
): Promise<{ readonly file: string; readonly stock: string | undefined }> {
  const { workspace } = bench
  const file = await profileFile(cli, bench, like, 'settings to carry')
  const document = await workspace.load(file)
  await workspace.prepare(file)
  const setup = document && workspace.setup(document)
  const facts = [...workspace.shelf(place).all('media')].find((one) => one.file === file)
  if (!setup || !facts) throw new CannotRun(`${like} is no profile of this shop that can be read.`)
  if (document.tree.conflicts.length > 0) throw new CannotRun(`${like} holds a merge that waits: settle it first.`)
  return { file, stock: setup.profile.stock?.value }
}

/** One profile for several printers, each in a new file where the shop keeps its profiles: all of them or none, to be reviewed as one change. */
async function rollOut(
  cli: CliHost,
  bench: Bench,
  { printers, mode, out, id, like: named }: StartWish,
  { place, stock, like }: { readonly place: string; readonly stock: string; readonly like: string | undefined },
  at: (doing: string) => void,
): Promise<number> {
  const { workspace, shown } = bench
  if (named === undefined || out !== undefined || id !== undefined)
    throw new CannotRun(`For several printers at once give --like PROFILE, and no --out or --id.${seeHelp('new')}`)
  const all: (Extract<StartAnswer, { ok: true }> & { readonly printer: string })[] = []
  for (const printer of printers) {
    at(`starting a profile for ${stock} on ${printer}`)
    const started = await startIn(workspace, place, { stock, printer, mode, like })
    if (!started.ok) throw new CannotRun(`${printer}: ${started.refused} Nothing is written.`)
    all.push({ ...started, printer })
  }
  at('writing')
  for (const { file } of all)
    if ((await cli.look(fileURLToPath(file))) !== undefined)
      throw new CannotRun(`There is a file ${shown(file)} already. Nothing is written.`)
  await cli.createAll(new Map(all.map(({ file, text }) => [fileURLToPath(file), text])))
  for (const { file, testPrints, problems } of all) {
    cli.err(`${printable(`${shown(file)} is written: ${testPrints.length} test prints to make first stand at its top.`)}\n`)
    for (const problem of problems) cli.err(`  ${printable(problem)}\n`)
  }
  tellTroubles(cli, bench)
  return all.some(({ problems }) => problems.length > 0) || workspace.unread(place).length > 0 ? EXIT.findings : EXIT.clean
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
