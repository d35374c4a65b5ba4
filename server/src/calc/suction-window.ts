// Which suction levels hold this web flat without stretching or dimpling it more than the shop allows, level by level with the numbers.
import { type Outcome, ok, refuse } from '../base/outcome.ts'
import { inputProblem } from './formula.ts'
import { dimpleDepth } from './plate.ts'
import type { Range } from './range.ts'
import {
  type CurledWeb,
  type DraggedWeb,
  holdingForce,
  holdingShare,
  type StandingCurl,
  standingCurl,
  suctionDrag,
  suctionStretch,
} from './suction.ts'

/** What the shop allows: strain as a fraction, depth of a dimple and rise of an edge in m. */
interface SuctionLimits {
  readonly strain: number
  readonly dimple: number
  readonly rise: number
}

/** The platen, the web and what is allowed. Pressures in Pa with the platen covered; depth along the feed, hole diameter and thickness in m; open area a fraction. */
export interface SuctionCase<L> extends DraggedWeb, CurledWeb {
  readonly levels: readonly { readonly level: L; readonly pressure: number }[]
  readonly openArea: number
  readonly holeDiameter: number
  /** What resists dimples and curl, Pa, where layers bend otherwise than they stretch (`bendingModulus`); `modulus` where not given. */
  readonly bendingModulus?: number | Range | undefined
  readonly limits: SuctionLimits
}

type SuctionFault = 'curl' | 'stretch' | 'dimple'

export interface SuctionRow<L> {
  readonly level: L
  /** Pa. */
  readonly pressure: number
  /** Force that holds each metre of width down, N/m. */
  readonly holding: Range
  /** N/m. */
  readonly drag: Range
  /** Fraction. */
  readonly strain: Range
  /** m. */
  readonly dimple: Range
  readonly curl: StandingCurl
  /** What is beyond its limit with typical values. */
  readonly faults: readonly SuctionFault[]
  /** Too weak leaves curl standing, too strong stretches or dimples, unfit does both, and then no change of suction helps. */
  readonly verdict: 'holds' | 'too-weak' | 'too-strong' | 'unfit'
  /** Whether the verdict stands over the whole of every range. */
  readonly certain: boolean
  /** The verdict as a sentence with its numbers. */
  readonly reason: string
}

export interface SuctionWindow<L> {
  /** By rising pressure. */
  readonly rows: readonly SuctionRow<L>[]
  /** The weakest and the strongest level that hold; undefined when none does. */
  readonly window: { readonly from: L; readonly to: L } | undefined
}

/**
 * Every level judged at typical values, by rising pressure, and the window of those that hold. More suction only lowers the curl and only raises
 * stretch and dimple, so the levels that hold lie side by side. Validity: as `suctionDrag`, `dimpleDepth` and `standingCurl`; not for cloth that lets the
 * air through. Errors: no levels; any input missing, not finite, or zero or below (a pressure may be zero).
 */
export function suctionWindow<L>(input: SuctionCase<L>): Outcome<SuctionWindow<L>> {
  const { strain, dimple, rise } = input.limits ?? {}
  const problem = inputProblem({ strain, dimple, rise })
  if (problem) return refuse('limits', `among the limits, ${problem.reason}`)
  if (!input.levels?.length) return refuse('levels', 'there are no suction levels to judge')
  const share = holdingShare(input)
  if (!share.ok) return share
  const rows: SuctionRow<L>[] = []
  for (const { level, pressure } of input.levels) {
    const row = judge(input, level, pressure, share.value)
    if (!row.ok) return row
    rows.push(row.value)
  }
  rows.sort((a, b) => a.pressure - b.pressure)
  const holding = rows.filter((row) => row.verdict === 'holds')
  const [first, last] = [holding.at(0), holding.at(-1)]
  return ok({ rows, window: first ? { from: first.level, to: last!.level } : undefined })
}

function judge<L>(input: SuctionCase<L>, level: L, pressure: number, share: Range): Outcome<SuctionRow<L>> {
  const suction = { ...input, pressure, share }
  const holding = holdingForce({ ...suction, width: 1 })
  if (!holding.ok) return holding
  const drag = suctionDrag(suction)
  if (!drag.ok) return drag
  const strain = suctionStretch(suction)
  if (!strain.ok) return strain
  const bent = { ...suction, modulus: input.bendingModulus ?? input.modulus }
  const dimple = dimpleDepth(bent)
  if (!dimple.ok) return dimple
  const curl = standingCurl(bent)
  if (!curl.ok) return curl
  const { limits } = input
  const checks: readonly Check[] = [
    { fault: 'curl', value: curl.value.rise, limit: limits.rise, tell: (v) => `leaves edges standing ${micrometres(v)} high` },
    {
      fault: 'stretch',
      value: strain.value,
      limit: limits.strain,
      tell: (v) => `stretches the web by ${millimetresPerMetre(v)}`,
    },
    { fault: 'dimple', value: dimple.value, limit: limits.dimple, tell: (v) => `draws dimples ${micrometres(v)} deep` },
  ]
  const faults = checks.filter(isBeyond).map((check) => check.fault)
  const certain = checks.every((check) => check.value.high <= check.limit || check.value.low > check.limit)
  const numbers = { holding: holding.value, drag: drag.value, strain: strain.value, dimple: dimple.value, curl: curl.value }
  return ok({ level, pressure, ...numbers, faults, verdict: verdictOf(faults), certain, reason: reasonOf(checks, certain) })
}

interface Check {
  readonly fault: SuctionFault
  readonly value: Range
  readonly limit: number
  readonly tell: (value: number) => string
}

const isBeyond = ({ value, limit }: Check): boolean => value.typical > limit

function verdictOf(faults: readonly SuctionFault[]): SuctionRow<unknown>['verdict'] {
  if (faults.length === 0) return 'holds'
  if (!faults.includes('curl')) return 'too-strong'
  return faults.length === 1 ? 'too-weak' : 'unfit'
}

function reasonOf(checks: readonly Check[], certain: boolean): string {
  const beyond = checks.filter(isBeyond)
  const tellAgainst = ({ tell, value, limit, fault }: Check) =>
    `${tell(value.typical)}, more than the ${fault === 'stretch' ? millimetresPerMetre(limit) : micrometres(limit)} allowed`
  const told = (beyond.length > 0 ? beyond.map(tellAgainst) : checks.map((check) => check.tell(check.value.typical))).join('; ')
  return certain ? told : `${told}; typical values, and others within their range would decide otherwise`
}

const twoDigits = (value: number): number => Number(value.toPrecision(2))

const micrometres = (metres: number): string =>
  metres < 1e-3 ? `${twoDigits(metres * 1e6)} µm` : `${twoDigits(metres * 1e3)} mm`

const millimetresPerMetre = (strain: number): string => `${twoDigits(strain * 1e3)} mm/m`
