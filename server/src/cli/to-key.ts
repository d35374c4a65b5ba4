// `rollbook to-key`: what has to be keyed in at a printer now, to be worked through at its panel; as a list, for programs, as a table, and as an empty table
// for what is read back.

import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import type { PrinterDocument } from '../model/generated/documents.ts'
import { toKeyText } from '../report/fleet/to-key-text.ts'
import { inherited } from '../report/start/pairing.ts'
import { VERSION } from '../version.ts'
import { toKeyOf } from '../workspace/fleet.ts'
import { choicesOf } from '../workspace/starting.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { csvText } from './csv.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'
import { blankReadBacks, toKeyTable } from './to-key-table.ts'
import { tellBroken } from './unjudged.ts'

export const TO_KEY_FORMATS = ['text', 'json', 'csv', 'blank'] as const

export async function toKey(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [id, ...others] = options.positionals
  if (id === undefined || others.length > 0)
    throw new CannotRun(`rollbook to-key takes one printer by its name.${seeHelp('to-key')}`)
  const bench = openBench(cli)
  at('looking for the printer')
  const place = fileUri(`${await bench.addShopsOf(cli.cwd, 'folder')}/rollbook.yaml`)
  const printer = await printerOf(bench, place, id)
  at(`looking at the profiles of ${id}`)
  const slots = await toKeyOf(bench.analysis, place, id)
  const shelf = bench.workspace.shelf(place)
  await tellBroken(bench, place, (facts) => inherited(shelf, facts, 'printer') === id)
  const today = cli.host.today()
  const title = printer.title?.value
  switch (options.word('format') as (typeof TO_KEY_FORMATS)[number] | undefined) {
    case 'json':
      cli.out(
        `${JSON.stringify({ version: VERSION, date: today, printer: id, title, slots: slots.map(({ file, ...slot }) => ({ ...slot, file: bench.shown(file) })), notChecked: troublesOf(bench) }, null, 2)}\n`,
      )
      break
    case 'csv': {
      const { header, rows } = toKeyTable(slots)
      cli.out(csvText(header, rows))
      break
    }
    case 'blank': {
      const { header, rows } = blankReadBacks(slots)
      cli.out(csvText(header, rows))
      break
    }
    default: {
      const cautions = printer.cautions?.items.map(({ value }) => value) ?? []
      cli.out(toKeyText({ id, title, cautions }, slots, today).split('\n').map(printable).join('\n'))
    }
  }
  tellTroubles(cli, bench)
  if (troublesOf(bench).length > 0) return EXIT.failed
  return slots.some(({ items }) => items.some(({ state }) => state !== 'has-it')) ? EXIT.findings : EXIT.clean
}

export const troublesOf = ({ troubles, workspace, unreadText }: Bench): readonly string[] => [
  ...new Set([...troubles, ...workspace.unread().map(unreadText)]),
]

/** The document of a printer. Throws `CannotRun` where the shop has none that can be read. */
async function printerOf(bench: Bench, place: string, id: string): Promise<PrinterDocument> {
  const { workspace } = bench
  const shelf = workspace.shelf(place)
  const [facts] = shelf.withId('printer', id)
  const document = facts && (await workspace.load(facts.file))
  const content = document?.content as PrinterDocument | undefined
  if (content) return content
  if (facts)
    throw new CannotRun(`${bench.shown(facts.file)} cannot be read: ${workspace.whyUnreadable(facts.file) ?? 'it says nothing'}`)
  const all = choicesOf(shelf, 'printer').map((choice) => choice.id)
  const meant = nearestOrHolding(id, all)
  const there = all.length === 0 ? ' This shop has none.' : ` There is ${all.join(', ')}.`
  throw new CannotRun(`There is no printer '${id}' here.${meant === undefined ? there : ` Do you mean '${meant}'?`}`)
}
