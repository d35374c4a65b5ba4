// `rollbook feed`: the whole reckoning of one profile's feed, for a person or as JSON.
import { feedOf } from '../model/feed.ts'
import { reckoningText } from '../report/reckoning-text.ts'
import { openBench } from './bench.ts'
import { feedJson } from './feed-json.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile, setupOf } from './profile.ts'
import { printable } from './terminal.ts'

export async function feed(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [argument, ...others] = options.positionals
  if (argument === undefined || others.length > 0)
    throw new CannotRun(`rollbook feed takes one profile: its file or its id.${seeHelp('feed')}`)
  const bench = openBench(cli)
  at(`looking for the profile ${argument}`)
  const file = await profileFile(cli, bench, argument, 'a feed')
  const shown = bench.shown(file)
  at(`reckoning the feed of ${shown}`)
  const setup = await setupOf(bench, file, shown)
  if (options.has('json')) cli.out(`${JSON.stringify(feedJson(setup, shown), null, 2)}\n`)
  else cli.out(reckoningText(setup).split('\n').map(printable).join('\n'))
  for (const trouble of new Set([...bench.troubles, ...bench.asides])) cli.err(`${printable(trouble)}\n`)
  return feedOf(setup).reckoning?.wanted ? EXIT.clean : EXIT.findings
}
