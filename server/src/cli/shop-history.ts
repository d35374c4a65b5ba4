// `rollbook history --shop`: which printers moved together from quarter to quarter, and which alone.
import { type ShopStep, shopMoves } from '../areas/feed/shop-moves.ts'
import { K95, perLength } from '../areas/feed/words.ts'
import type { Setup } from '../model/setup.ts'
import { lines, type Page, pageText } from '../report/page.ts'
import { listed } from '../rules/support/words.ts'
import { kindOfFile } from '../schema/schema.ts'
import { VERSION } from '../version.ts'
import { openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { printable } from './terminal.ts'
import { unjudgedOf } from './unjudged.ts'

export async function shopHistory(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const bench = openBench(cli)
  const root = await bench.addShopsOf(cli.cwd, 'folder')
  const files = (await bench.documentsBelow(root)).filter((file) => kindOfFile(file) === 'media')
  if (files.length === 0) throw new CannotRun('There is no profile here to tell the history of: these are named *.media.yaml.')
  const setups: Setup[] = []
  for (const file of files) {
    at(`reading ${bench.shown(file)}`)
    await bench.workspace.load(file)
    await bench.workspace.prepare(file)
    for (const { text, lacking } of await unjudgedOf(bench, file)) if (lacking?.kind !== 'colour-file') bench.trouble(text)
    const setup = bench.analysis.context(file)?.setup
    if (setup) setups.push(setup)
  }
  const steps = shopMoves(setups)
  const first = setups[0]
  if (options.has('json')) {
    cli.out(
      `${JSON.stringify({ version: VERSION, shop: first?.shop.name ?? null, date: cli.host.today(), steps: steps.map(stepJson), notChecked: bench.troubles }, null, 2)}\n`,
    )
  } else if (first) cli.out(pageText(pageOf(steps, first)).split('\n').map(printable).join('\n'))
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return steps.some(({ judged }) => judged) ? EXIT.clean : EXIT.findings
}

const stepJson = ({ from, to, moves, few, opened, judged }: ShopStep): object => ({
  from,
  to,
  printers: moves.map(({ id, change, u, prints, profiles }) => ({
    printer: id,
    longerPercent: change * 100,
    uncertaintyPercent: K95 * u * 100,
    prints,
    profiles,
  })),
  together: judged?.together ? judged.rest : [],
  alone: judged?.alone.map(({ id }) => id) ?? [],
  apart: judged?.apart ? judged.rest : [],
  tooFew: few,
  opened,
})

function pageOf(steps: readonly ShopStep[], setup: Setup): Page {
  const method =
    'By feed checks of one profile, state and lot, two days or more in each quarter. Whether printers moved by one amount is judged by Cochran’s Q, all quarters together at 5 %.'
  const passages = steps.map((step) => ({
    heading: `${step.from} to ${step.to}`,
    blocks: [
      { kind: 'table' as const, header: ['', '', '', ''], rows: step.moves.map((move) => rowOf(move, setup)) },
      lines(...sentences(step, setup)),
    ],
  }))
  const none = steps.length === 0 ? [lines('Nothing was measured in two quarters: nothing can be said.')] : []
  return {
    title: `How the printers of ${setup.shop.name ?? 'this shop'} moved`,
    passages: [{ heading: 'How it is judged', blocks: [lines(method), ...none] }, ...passages],
  }
}

const rowOf = ({ id, change, u, prints, profiles }: ShopStep['moves'][number], setup: Setup): readonly string[] => [
  id,
  `${perLength(setup, change)} ${change < 0 ? 'shorter' : 'longer'}`,
  `±${perLength(setup, K95 * u)}`,
  `${prints} prints of ${profiles} profile${profiles === 1 ? '' : 's'}`,
]

function sentences({ moves, few, opened, judged }: ShopStep, setup: Setup): readonly (string | undefined)[] {
  const done = opened.map(({ printer, date, what }) => `${printer} is not compared: ${what} on ${date}.`)
  const lacking = few.length > 0 ? `Too few checks in both quarters to say anything of ${listed(few)}.` : undefined
  if (!judged)
    return [
      moves.length === 1 ? `Of ${moves[0]!.id} alone nobody can tell whether others moved with it.` : undefined,
      lacking,
      ...done,
    ]
  const { alone, rest, common, together, apart } = judged
  return [
    ...alone.map(
      ({ id, change }) =>
        `Look at ${id}: it moved alone, by ${perLength(setup, change)} ${change < 0 ? 'shorter' : 'longer'}. Its roller, belt, tension, or what was keyed in.`,
    ),
    together
      ? `Look for one cause: ${listed(rest)} moved together, by ${perLength(setup, common!.change)} ${common!.change < 0 ? 'shorter' : 'longer'}. What they share is the room, the instrument and the delivery.`
      : undefined,
    apart ? `${listed(rest)} moved by unlike amounts, and none can be named.` : undefined,
    !together && !apart && alone.length === 0 ? 'None has moved by more than can be told.' : undefined,
    lacking,
    ...done,
  ]
}
