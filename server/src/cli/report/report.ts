// What every format of `rollbook check` is given, and what they share: which findings count, how many there are, which come first.
import type { Risk, Severity } from '../../rules/rule.ts'
import type { CliHost } from '../host.ts'
import type { Judged } from '../judging.ts'
import type { LeftOut } from '../left-out.ts'
import type { ReadableFinding } from '../readable.ts'

export interface Counts {
  readonly errors: number
  readonly warnings: number
  readonly hints: number
}

/** The least severity that makes a check fail. */
export type FailOn = Severity | 'never'

export const FAIL_ON: readonly FailOn[] = ['error', 'warning', 'hint', 'never']

export const SEVERITIES: readonly Severity[] = ['error', 'warning', 'hint']

/** What a check was asked. */
export interface Asked {
  readonly failOn: FailOn
  /** Whether what the days alone have brought counts as well. */
  readonly due: boolean
  /** The revision that findings are compared with, as it was given. */
  readonly newSince: string | undefined
  readonly today: string
}

export interface Fixed {
  readonly file: string
  readonly line: number
  readonly code: string
  readonly title: string
}

export interface Ending {
  readonly tally: Tally
  /** Why not everything could be judged, one sentence each. */
  readonly troubles: readonly string[]
  /** What the documents of stocks and printers leave out, so that profiles could not be judged by it. */
  readonly leftOut: LeftOut
  /** What else a person should know of how the check was made. */
  readonly remarks: readonly string[]
  readonly fixed: readonly Fixed[]
}

export interface CheckReport {
  /** One document that was judged, with or without findings. */
  take(document: Judged): void
  end(ending: Ending): void
}

export type MakeReport = (cli: CliHost, asked: Asked) => CheckReport

/** Where a finding is told: among what a change is judged by, what somebody accepted, what is due, or not at all, since it was there before. */
export function placeOf(finding: ReadableFinding, asked: Asked): 'told' | 'accepted' | 'due' | 'before' {
  if (finding.accepted) return 'accepted'
  if (finding.due && !asked.due) return 'due'
  return finding.new === false ? 'before' : 'told'
}

/** Whether a severity makes a check fail. */
export const fails = (severity: Severity, failOn: FailOn): boolean =>
  failOn !== 'never' && SEVERITIES.indexOf(severity) <= SEVERITIES.indexOf(failOn)

const COUNTED: Readonly<Record<Severity, keyof Counts>> = { error: 'errors', warning: 'warnings', hint: 'hints' }

export class Tally {
  readonly counts = { errors: 0, warnings: 0, hints: 0 }
  readonly due = { errors: 0, warnings: 0, hints: 0 }
  /** Accepted in the documents, until a day and with a reason. */
  accepted = 0
  /** There before the revision compared with. */
  before = 0
  documents = 0
  withFindings = 0
  fixable = 0
  failed = false

  constructor(private readonly asked: Asked) {}

  add(findings: readonly ReadableFinding[]): void {
    this.documents++
    const told = findings.filter((finding) => placeOf(finding, this.asked) === 'told')
    if (told.length > 0) this.withFindings++
    for (const { severity, fixes } of told) {
      this.counts[COUNTED[severity]]++
      if (fixes.length > 0) this.fixable++
      if (fails(severity, this.asked.failOn)) this.failed = true
    }
    for (const finding of findings) {
      const place = placeOf(finding, this.asked)
      if (place === 'due') this.due[COUNTED[finding.severity]]++
      else if (place === 'accepted') this.accepted++
      else if (place === 'before') this.before++
    }
  }
}

const RISK_ORDER: readonly (Risk | undefined)[] = ['harm', 'length', 'look', undefined]

export const byRisk = (a: { readonly risk?: Risk }, b: { readonly risk?: Risk }): number =>
  RISK_ORDER.indexOf(a.risk) - RISK_ORDER.indexOf(b.risk)

/** By severity, then by what may be hurt; of equals the order of files and lines stays. */
export const worstFirst = (a: ReadableFinding, b: ReadableFinding): number =>
  SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) || byRisk(a, b)

/** "Accepted until 2027-03-01: tested on the wall." */
export const acceptedText = ({ accepted }: Pick<ReadableFinding, 'accepted'>): string | undefined =>
  accepted && `Accepted until ${accepted.until}: ${accepted.reason}${/[.!?]$/.test(accepted.reason) ? '' : '.'}`

export const many = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`

/** "2 errors, 1 warning and 0 hints" */
export const countsText = ({ errors, warnings, hints }: Counts): string =>
  `${many(errors, 'error')}, ${many(warnings, 'warning')} and ${many(hints, 'hint')}`

/** What belongs beside the outcome: how the check was made, and what it could not judge. */
export const asideOf = ({ remarks, leftOut }: Ending): readonly string[] => [...remarks, ...leftOut.lines]

export const sum = ({ errors, warnings, hints }: Counts): number => errors + warnings + hints

/** The outcome in one line: how many documents, and what was found in them. */
export function summaryText({ tally, troubles, leftOut }: Ending, asked: Asked): string {
  const { counts, due, before, documents, withFindings, fixable, accepted } = tally
  if (documents === 0) return troubles.length > 0 ? 'Nothing could be checked.' : 'Nothing was to be checked.'
  const inPart = troubles.length + leftOut.lines.length > 0
  const checked = `${many(documents, 'document')} checked${inPart ? ', and not everything could be judged' : ''}`
  const since = asked.newSince === undefined ? '' : ` since ${asked.newSince}`
  const except = [...(sum(due) > 0 ? ['due'] : []), ...(accepted > 0 ? ['accepted'] : [])]
  const nothing = `${since === '' ? 'nothing found' : `nothing new${since}`}${except.length > 0 ? ` but what is ${except.join(' or ')}` : ''}`
  const found =
    sum(counts) > 0
      ? `${checked}: ${countsText(counts)}${since === '' ? '' : ` new${since}`} in ${withFindings} of them.`
      : inPart
        ? `${checked}. ${nothing[0]!.toUpperCase()}${nothing.slice(1)} in what was.`
        : `${checked}: ${nothing}.`
  return [
    found,
    ...(fixable > 0 ? [`${fixable} can be put right with a fix offered in the editor.`] : []),
    ...(before > 0
      ? [`${before} ${before === 1 ? 'was' : 'were'} there before, and ${before === 1 ? 'is' : 'are'} not told.`]
      : []),
    ...(accepted > 0 ? [`${accepted} ${accepted === 1 ? 'is' : 'are'} accepted in the documents, each until a day.`] : []),
    ...(sum(due) > 0 ? [`${sum(due)} ${sum(due) === 1 ? 'is' : 'are'} due and not counted: see 'rollbook due'.`] : []),
  ].join(' ')
}
