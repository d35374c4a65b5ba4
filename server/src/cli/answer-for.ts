// `rollbook answer`: whether a print that somebody complains of was within tolerance when it left the machine: ours, theirs, or nobody can tell.

import { verdictOf } from '../areas/feed/verdict.ts'
import { type Answered, answered, answerPage, settingsThen } from '../areas/observed/answer.ts'
import type { Observation } from '../areas/observed/claim.ts'
import type { Line } from '../host/revisions.ts'
import { addDays } from '../model/dates.ts'
import { isDate } from '../model/read.ts'
import type { Setup } from '../model/setup.ts'
import { pageText } from '../report/page.ts'
import { pageHtml } from '../report/page-html.ts'
import { pageMarkdown } from '../report/page-markdown.ts'
import { listed } from '../rules/support/words.ts'
import { VERSION } from '../version.ts'
import { openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { asNamedThen, lineOf, type Moment, momentOf } from './moment.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile, profileOf } from './profile.ts'
import { printable } from './terminal.ts'

export const ANSWER_FORMATS = ['text', 'markdown', 'json', 'html'] as const

export async function answer(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const date = options.word('date')
  if (date === undefined) throw new CannotRun(`Say on which day it was printed: --date 2026-03-14.${seeHelp('answer')}`)
  if (!isDate(date)) throw new CannotRun(`--date takes a day of the calendar, as in 2026-11-25; '${date}' is none.`)
  at(`looking for the documents of ${date}`)
  const line = await lineOf(cli)
  const moment = await momentOf(cli, line, date)
  const named = await asNamedThen(cli, line, moment, options, HOLDS)
  const observation = await observationOf(cli, options, date)
  const { bench, shown, setup, notChecked } = await thenOf(moment, named, at)
  const dayBefore = moment.commit.day === date ? await beforeOf(cli, line, options, date, at) : undefined
  const told = answered(setup, observation, moment.commit, dayBefore)
  cli.out(written(options.word('format'), told, { shown, commit: moment.commit.id, notChecked }))
  tellTroubles(cli, bench)
  if (notChecked.length > 0) return EXIT.failed
  return told.verdict === 'cannot-tell' ? EXIT.findings : EXIT.clean
}

const HOLDS = 'an answer'

const thenOf = ({ cli }: Moment, named: Options, at: (doing: string) => void) =>
  profileOf(cli, named, at, {
    command: 'answer',
    holds: HOLDS,
    doing: 'answering for',
    rests: ({ kind }) => kind !== 'colour-file',
  })

/** As it was the day before; undefined where it was not there yet. */
async function beforeOf(
  cli: CliHost,
  line: Line,
  options: Options,
  date: string,
  at: (doing: string) => void,
): Promise<Setup | undefined> {
  try {
    const moment = await momentOf(cli, line, addDays(date, -1))
    return (await thenOf(moment, await asNamedThen(cli, line, moment, options, HOLDS), at)).setup
  } catch (error) {
    if (error instanceof CannotRun) return undefined
    throw error
  }
}

/** The complaint, from the documents as they are now: it was written down after the print was made. */
async function observationOf(
  cli: CliHost,
  { positionals: [argument], ...options }: Options,
  date: string,
): Promise<Observation | undefined> {
  if (argument === undefined) return undefined
  const bench = openBench(cli)
  const file = await profileFile(cli, bench, argument, HOLDS)
  await bench.workspace.load(file)
  const all = bench.analysis.context(file)?.setup?.own.observed?.items ?? []
  const seen = options.word('seen')
  const claims = all.filter((one) => one.ordered && one.measured && one.date && (seen === undefined || one.date.value === seen))
  const exact = claims.filter(({ printed }) => printed?.value === date)
  const found = exact.length > 0 ? exact : claims.filter((one) => one.printed === undefined && one.date!.value >= date)
  if (found.length > 1)
    throw new CannotRun(
      `More than one complaint may be of ${date}: those seen on ${listed(found.map((one) => one.date!.value))}. Write under observed on which day each was printed, or choose one with --seen.`,
    )
  if (seen !== undefined && found.length === 0)
    throw new CannotRun(`Under observed, nothing seen on ${seen} says what was ordered and measured of a print of ${date}.`)
  return found[0]
}

interface About {
  readonly shown: string
  readonly commit: string
  readonly notChecked: readonly string[]
}

function written(format: string | undefined, told: Answered, about: About): string {
  if (format === 'json') return `${JSON.stringify(answerJson(told, about), null, 2)}\n`
  const page = answerPage(told)
  const [first, ...rest] = page.passages
  const settle = about.notChecked.map((sentence) => `Settle first: ${sentence}`)
  const whole =
    settle.length === 0
      ? page
      : { ...page, passages: [{ ...first!, blocks: [{ kind: 'items' as const, lines: settle }, ...first!.blocks] }, ...rest] }
  if (format === 'html') return pageHtml(whole)
  return (format === 'markdown' ? pageMarkdown(whole) : pageText(whole)).split('\n').map(printable).join('\n')
}

/** What the help documents: fractions as per cent, lengths in millimetres, null where a number is not known. */
function answerJson({ answer, documents, before, verdict }: Answered, { shown, commit, notChecked }: About): object {
  const { then, held, feed, observation, ordered, tolerance, toleranceBy, risk, measured, knownBy, claim, because, silent } =
    answer
  const value = claim.ok ? claim.value : undefined
  const mm = (metres: number | undefined): number | null => (metres === undefined ? null : metres * 1e3)
  const percent = (share: number | undefined): number | null => (share === undefined ? null : share * 100)
  return {
    version: VERSION,
    file: shown,
    profile: then.own.profile?.value ?? null,
    date: then.today,
    verdict,
    because: because ?? (before ? 'changed-that-day' : null),
    documents: { commit, committed: documents.day, subject: documents.subject },
    settings: settingsThen(then),
    machine: held ? { percent: percent(held.correction), by: held.by } : null,
    complaint: observation
      ? {
          seen: observation.date?.value ?? null,
          orderedMm: mm(ordered),
          measuredMm: mm(observation.measured?.value.si),
          with: observation.with?.value ?? null,
          tolerancePercent: percent(tolerance),
          toleranceOf: observation['tolerance-of']?.value ?? toleranceBy,
        }
      : null,
    evidence: { word: verdictOf(feed).word, says: silent === undefined, within: value?.knownWithin ?? null, why: silent ?? null },
    measurement: {
      lengthMm: measured?.ok ? mm(measured.value.length) : null,
      standardUncertaintyMm: measured?.ok && knownBy !== undefined ? mm(measured.value.u) : null,
      knownBy: knownBy ?? null,
      within: value?.measuredWithin ?? null,
    },
    both: {
      errorPercent: percent(value?.mean),
      standardUncertaintyPercent: percent(value?.s),
      within: value?.within ?? null,
      surprise: value?.surprise ?? null,
    },
    risk,
    notChecked,
  }
}
