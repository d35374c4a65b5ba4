// `rollbook shop`: the whole shop on one table, stocks by printers, with what is due first; for people, as a page, and for programs.
import { fileUri } from '../host/node.ts'
import { resolveShop } from '../model/shop.ts'
import { shopHtml, shopText } from '../report/fleet/shop-text.ts'
import { VERSION } from '../version.ts'
import { shopTableOf } from '../workspace/fleet.ts'
import { openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'
import { troublesOf } from './to-key.ts'
import { tellBroken, unreadOf } from './unjudged.ts'

export const SHOP_FORMATS = ['text', 'html', 'json'] as const

export async function shop(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  if (options.positionals.length > 0)
    throw new CannotRun(`rollbook shop takes no name: it looks at the shop of the current folder.${seeHelp('shop')}`)
  const bench = openBench(cli)
  at('looking at the shop')
  const place = fileUri(`${await bench.addShopsOf(cli.cwd, 'folder')}/rollbook.yaml`)
  const table = await shopTableOf(bench.workspace, place)
  await tellBroken(bench, place, () => true)
  for (const kind of ['shop', 'stock', 'printer'] as const)
    for (const { file } of [...bench.workspace.shelf(place).all(kind)]) {
      const document = await bench.workspace.load(file)
      for (const { text } of document ? unreadOf(bench, document) : []) bench.trouble(text)
    }
  const { name } = resolveShop(bench.workspace.shelf(place).shop()?.content)
  const troubles = troublesOf(bench)
  switch (options.word('format') as (typeof SHOP_FORMATS)[number] | undefined) {
    case 'json':
      cli.out(`${JSON.stringify({ version: VERSION, shop: name, ...table, notChecked: troubles }, withPaths(bench.shown), 2)}\n`)
      break
    case 'html':
      cli.out(shopHtml(table, name, troubles))
      break
    default:
      cli.out(shopText(table, name).split('\n').map(printable).join('\n'))
  }
  tellTroubles(cli, bench)
  return troubles.length > 0 ? EXIT.failed : EXIT.clean
}

/** Files as a person knows them. */
const withPaths =
  (shown: (file: string) => string) =>
  (key: string, value: unknown): unknown =>
    key === 'file' && typeof value === 'string' ? shown(value) : value
