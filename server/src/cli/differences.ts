// `rollbook differences`: one stock on several printers, settings and corrections side by side, with what explains them.
import { nearestOrHolding } from '../base/nearest.ts'
import { fileUri } from '../host/node.ts'
import { resolveShop } from '../model/shop.ts'
import { differencesText } from '../report/fleet/differences-text.ts'
import { inherited } from '../report/start/pairing.ts'
import { VERSION } from '../version.ts'
import { differencesOf } from '../workspace/fleet.ts'
import { choicesOf } from '../workspace/starting.ts'
import { openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'
import { troublesOf } from './to-key.ts'
import { tellBroken } from './unjudged.ts'

export async function differences(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [stock, ...others] = options.positionals
  if (stock === undefined || others.length > 0)
    throw new CannotRun(`rollbook differences takes one stock by its name.${seeHelp('differences')}`)
  const bench = openBench(cli)
  at('looking for the stock')
  const place = fileUri(`${await bench.addShopsOf(cli.cwd, 'folder')}/rollbook.yaml`)
  const shelf = bench.workspace.shelf(place)
  at(`comparing the profiles of ${stock}`)
  const found = await differencesOf(bench.workspace, place, stock)
  await tellBroken(bench, place, (facts) => inherited(shelf, facts, 'stock') === stock)
  if (found.profiles.length === 0) {
    const all = choicesOf(shelf, 'stock').map(({ id }) => id)
    const meant = all.includes(stock) ? undefined : nearestOrHolding(stock, all)
    tellTroubles(cli, bench)
    throw new CannotRun(`No profile in use prints on '${stock}' here.${meant === undefined ? '' : ` Do you mean '${meant}'?`}`)
  }
  const { host } = cli
  if (options.has('json')) {
    const profiles = found.profiles.map((one) => ({ ...one, file: bench.shown(one.file) }))
    cli.out(
      `${JSON.stringify({ version: VERSION, date: host.today(), ...found, profiles, notChecked: troublesOf(bench) }, null, 2)}\n`,
    )
  } else {
    const shop = resolveShop(bench.workspace.shelf(place).shop()?.content)
    cli.out(differencesText(found, shop, host.today()).split('\n').map(printable).join('\n'))
  }
  tellTroubles(cli, bench)
  return troublesOf(bench).length > 0 ? EXIT.failed : EXIT.clean
}
