// `rollbook start`: a new profile for a stock on a printer, on standard output or into a new file.
import { resolve } from 'node:path'
import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import { kindOfFile } from '../schema/schema.ts'
import { choicesOf, start as startIn } from '../workspace/starting.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'

export async function start(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [stock, printer, out] = [options.word('stock'), options.word('printer'), options.word('out') ?? '-']
  if (stock === undefined || printer === undefined || options.positionals.length > 0)
    throw new CannotRun(`rollbook start takes a stock and a printer: --stock S --printer P.${seeHelp('start')}`)
  if (out !== '-' && kindOfFile(out) !== 'media')
    throw new CannotRun(`'${out}' is no name for a profile: these are named *.media.yaml.`)
  const bench = openBench(cli)
  at('looking for the shop')
  const path = out === '-' ? cli.cwd : resolve(cli.cwd, out)
  const folder = await bench.addShopsOf(path, out === '-' ? 'folder' : 'file')
  const place = fileUri(`${folder}/rollbook.yaml`)
  known(bench, place, 'stock', stock)
  known(bench, place, 'printer', printer)
  at(`starting a profile for ${stock} on ${printer}`)
  const named = out === '-' ? undefined : idOfFile(out)
  const id = options.word('id') ?? named
  if (named !== undefined && id !== named)
    throw new CannotRun(`A profile is named as its file: --id ${id} and --out ${out} do not go together.`)
  const started = await startIn(bench.workspace, place, { stock, printer, mode: options.word('mode'), id })
  if (!started.ok) throw new CannotRun(started.refused)
  if (out === '-') cli.out(started.text)
  else {
    await cli.create(path, started.text)
    cli.err(`${printable(`${out} is written: ${started.testPrints.length} test prints to make first stand at its top.`)}\n`)
  }
  for (const problem of started.problems) cli.err(`${printable(problem)}\n`)
  tellTroubles(cli, bench)
  return started.problems.length > 0 ? EXIT.findings : EXIT.clean
}

function known(bench: Bench, place: string, kind: 'stock' | 'printer', id: string): void {
  const all = choicesOf(bench.workspace.shelf(place), kind).map((choice) => choice.id)
  if (all.includes(id)) return
  if (all.length === 0) throw new CannotRun(`The shop of the current folder has no ${kind}: there is no *.${kind}.yaml.`)
  const meant = nearestOrHolding(id, all)
  throw new CannotRun(
    `There is no ${kind} '${id}' here.${meant === undefined ? ` There is ${all.slice(0, MOST_NAMED).join(', ')}${all.length > MOST_NAMED ? ' …' : ''}.` : ` Do you mean '${meant}'?`}`,
  )
}

const MOST_NAMED = 12

const idOfFile = (file: string): string => file.replace(/^.*[\\/]/, '').replace(/\.media\.yaml$/, '')
