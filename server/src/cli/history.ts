// `rollbook history`: how a profile came to be as it is, from evidence and from git; or over the shop, which printers moved together.

import { historyOf, type StandThen } from '../areas/feed/timeline/history.ts'
import { historyPage } from '../areas/feed/timeline/text.ts'
import type { Commit } from '../host/revisions.ts'
import { pageText } from '../report/page.ts'
import { VERSION } from '../version.ts'
import { tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { lineOf } from './moment.ts'
import { type Options, seeHelp } from './options.ts'
import { profileOf } from './profile.ts'
import { shopHistory } from './shop-history.ts'
import { standsOf } from './stands.ts'
import { printable } from './terminal.ts'

export async function history(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  if (options.has('shop')) {
    if (options.positionals.length > 0) throw new CannotRun(`--shop is of all profiles: name none.${seeHelp('history')}`)
    return shopHistory(cli, options, at)
  }
  const { bench, shown, setup, notChecked } = await profileOf(cli, options, at, {
    command: 'history',
    holds: 'a history',
    doing: 'reading',
  })
  at(`looking through git for ${shown}`)
  const line = await lineOf(cli)
  const stands: StandThen[] = []
  for await (const { commit, on } of standsOf(cli, line, setup.file))
    if (commit.day <= setup.today) stands.unshift({ ...standThen(commit), on })
  if (stands.length === 0) throw new CannotRun(`${shown} is not kept in git yet: it has no history there.`)
  const told = historyOf(stands, setup)
  if (options.has('json')) cli.out(`${JSON.stringify({ version: VERSION, file: shown, ...told, notChecked }, null, 2)}\n`)
  else cli.out(pageText(historyPage(told, setup)).split('\n').map(printable).join('\n'))
  tellTroubles(cli, bench)
  return notChecked.length > 0 ? EXIT.failed : EXIT.clean
}

const standThen = ({ day, short, subject }: Commit): Omit<StandThen, 'on'> => ({ day, commit: short, subject })
