// `rollbook review`: what a change does to prints, for whoever has to approve it: one change set, told for people, for a merge request, as a page or for
// other programs.

import type { ChangeSet } from '../review/change-set.ts'
import { reviewHtml } from '../review/html.ts'
import { reviewJson } from '../review/json.ts'
import { REVIEW_SCHEMA } from '../review/json-schema.ts'
import { reviewMarkdown } from '../review/markdown.ts'
import { openedOf, pageOf } from '../review/page.ts'
import { review as compare } from '../review/review.ts'
import { reviewText } from '../review/text.ts'
import { VERSION } from '../version.ts'
import { type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { sourcesOf } from './review-sources.ts'
import { printable, styleOf } from './terminal.ts'

export const REVIEW_FORMATS: readonly string[] = ['text', 'markdown', 'html', 'json']

/** What makes the exit code 1. */
export const REVIEW_FAILS: readonly string[] = ['print', 'finding', 'never']

export async function review(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  if (options.has('schema')) {
    cli.out(`${JSON.stringify(REVIEW_SCHEMA, null, 2)}\n`)
    return EXIT.clean
  }
  at('looking for what is to be compared')
  const compared = await sourcesOf(cli, options)
  at('comparing')
  const set = await compare(compared)
  cli.out(written(cli, set, options))
  for (const text of set.notCompared) cli.err(`${printable(text)}\n`)
  if (set.notCompared.length > 0) return EXIT.failed
  return fails(set, options.word('fail-on') ?? 'finding') ? EXIT.findings : EXIT.clean
}

function written(cli: CliHost, set: ChangeSet, options: Options): string {
  const format = options.word('format') ?? 'text'
  if (format === 'json') return `${JSON.stringify(reviewJson(set, VERSION), null, 2)}\n`
  const page = pageOf(set, { all: options.has('all') })
  if (format === 'markdown') return reviewMarkdown(page)
  if (format === 'html') return reviewHtml(page)
  const style = styleOf(cli)
  return reviewText(page, style.bold)
}

/** A print that a change honestly needs is no fault of it, unless asked. What is due by the calendar never is. */
export function fails(set: ChangeSet, failOn: string): boolean {
  if (failOn === 'never') return false
  if (failOn === 'print' && openedOf(set).length > 0) return true
  return set.findings.some(
    ({ course, severity, due, accepted }) => course === 'begins' && severity !== 'hint' && !due && !accepted,
  )
}
