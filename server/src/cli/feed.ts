// `rollbook feed`: the whole reckoning of one profile's feed, for a person or as JSON.
import { feedOf } from '../areas/feed/facts.ts'
import { reckoningText } from '../areas/feed/reckoning-text.ts'
import { tellTroubles } from './bench.ts'
import { feedJson } from './feed-json.ts'
import { type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { profileOf } from './profile.ts'
import { printable } from './terminal.ts'

export async function feed(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const { bench, shown, setup, notChecked } = await profileOf(cli, options, at, {
    command: 'feed',
    holds: 'a feed',
    doing: 'reckoning the feed of',
    // Of the mode the feed takes the advance of a pass, which the fine picks are counted in.
    rests: ({ kind }, { own }) => kind !== 'colour-file' && (kind !== 'mode' || own.feed?.fine !== undefined),
  })
  if (options.has('json')) cli.out(`${JSON.stringify(feedJson(setup, shown, notChecked), null, 2)}\n`)
  else cli.out(reckoningText(setup, notChecked).split('\n').map(printable).join('\n'))
  tellTroubles(cli, bench)
  if (notChecked.length > 0) return EXIT.failed
  return feedOf(setup).reckoning?.wanted ? EXIT.clean : EXIT.findings
}
