// `rollbook feed`: the whole reckoning of one profile's feed, for a person or as JSON, today or as the documents of another day had it.
import { feedOf } from '../areas/feed/facts.ts'
import { heldThenSentences } from '../areas/feed/held-then.ts'
import { reckoningPage } from '../areas/feed/reckoning-text.ts'
import type { Commit } from '../host/revisions.ts'
import { latestWritten } from '../model/latest-written.ts'
import type { Setup } from '../model/setup.ts'
import { items, type Page, pageText } from '../report/page.ts'
import { tellTroubles } from './bench.ts'
import { feedJson } from './feed-json.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { asNamedThen, lineOf, momentOf } from './moment.ts'
import { type Options, seeHelp } from './options.ts'
import { profileOf } from './profile.ts'
import { printable } from './terminal.ts'

export async function feed(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const when = options.word('at')
  if (when === undefined) return feedOn(cli, options, at)
  if (options.has('today')) throw new CannotRun(`--at takes that day as today: --today beside it says nothing.${seeHelp('feed')}`)
  at(`looking for the documents of ${when}`)
  const line = await lineOf(cli)
  const moment = await momentOf(cli, line, when)
  const named = await asNamedThen(cli, line, moment, options, HOLDS)
  return feedOn(moment.cli, named, at, moment.commit)
}

const HOLDS = 'a feed'

async function feedOn(cli: CliHost, options: Options, at: (doing: string) => void, commit?: Commit): Promise<number> {
  const { bench, shown, setup, notChecked } = await profileOf(cli, options, at, {
    command: 'feed',
    holds: HOLDS,
    doing: 'reckoning the feed of',
    // Of the mode the feed takes the advance of a pass, which the fine picks are counted in.
    rests: ({ kind }, { own }) => kind !== 'colour-file' && (kind !== 'mode' || own.feed?.fine !== undefined),
  })
  if (options.has('json')) cli.out(`${JSON.stringify(feedJson(setup, shown, notChecked, commit), null, 2)}\n`)
  else
    cli.out(
      pageText(pageOf(setup, notChecked, commit))
        .split('\n')
        .map(printable)
        .join('\n'),
    )
  if (!commit && options.has('today')) tellLater(cli, setup)
  tellTroubles(cli, bench)
  if (notChecked.length > 0) return EXIT.failed
  return feedOf(setup).reckoning?.wanted ? EXIT.clean : EXIT.findings
}

/** The reckoning; of another day with what was in the documents and in the machine then before it. */
function pageOf(setup: Setup, notChecked: readonly string[], commit: Commit | undefined): Page {
  const page = reckoningPage(setup, notChecked)
  if (!commit) return page
  const documents = `The documents are those of commit ${commit.short} of ${commit.day}: ${commit.subject}`
  const then = { heading: 'As it stood', blocks: [items(documents, ...heldThenSentences(feedOf(setup)))] }
  return { ...page, passages: [then, ...page.passages] }
}

/** Documents in which something later stands are not those of the day that was asked for, whatever their dates leave out. */
function tellLater(cli: CliHost, setup: Setup): void {
  const latest = latestWritten(setup.own)
  if (latest === undefined || latest <= setup.today) return
  cli.err(
    `The documents tell of ${latest}, which is after ${setup.today}: this takes today's settings with the measurements of then. '--at ${setup.today}' takes the documents as they were that day.\n`,
  )
}
