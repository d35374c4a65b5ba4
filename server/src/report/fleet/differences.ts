// One stock on several printers: which settings differ and what that is in real units, how far the corrections are apart, and what explains it: how the
// machines are built, how they have worn, or nothing that anybody wrote down. Pure: setups in, plain values out.
import { lengthLaws } from '../../areas/feed/carry.ts'
import { feedDriftOf } from '../../areas/feed/drift.ts'
import { feedOf } from '../../areas/feed/facts.ts'
import { verdictOf } from '../../areas/feed/verdict.ts'
import { feedChangeOf } from '../../areas/feed/watch.ts'
import { driftSentence } from '../../areas/feed/words.ts'
import { heatOf } from '../../areas/heat/facts.ts'
import { suctionOf } from '../../areas/suction/facts.ts'
import { tensionOf } from '../../areas/web/tension.ts'
import { type Apart, apartOf } from '../../calc/apart.ts'
import { differenceOf, exactly, type Range } from '../../calc/range.ts'
import { daysBetween } from '../../model/dates.ts'
import { openingOf } from '../../model/events.ts'
import type { EvidenceWord } from '../../model/evidence-word.ts'
import { type SettingValue, sameValue, settingAt, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import type { Dimension } from '../../quantities/units.ts'
import { keysOf, schemaOf } from '../../schema/schema.ts'

/** build: what stands behind it in the printers' documents differs. wear: age, work on the machine or drift. nobody-knows: nothing that is written down. */
export type Why = 'build' | 'wear' | 'nobody-knows'

export interface SettingDifference {
  /** 'heat.after' */
  readonly key: string
  /** As each profile has it, in the order of the profiles; undefined where it gives none. */
  readonly values: readonly (string | undefined)[]
  /** The same in what the web feels (pressure, pull, temperature), with its range where it is reckoned; undefined where there is no such thing. */
  readonly real: readonly (string | undefined)[]
  readonly why: Why
  /** In words; keys of the printers' documents where it is the build. */
  readonly because: string
}

export interface CorrectionDifference {
  /** Ids of the two profiles. */
  readonly a: string
  readonly b: string
  readonly apart: Apart
  /** What each law contributes, b − a, low with low; or why that cannot be told. */
  readonly causes: readonly (
    | { readonly law: string; readonly range: Range }
    | { readonly law: string; readonly problem: string }
  )[]
  /** Undefined where the two agree as they stand. */
  readonly why: Why | undefined
  /** What happened to either machine or is seen in its history, in words. */
  readonly wear: readonly string[]
}

export interface Compared {
  readonly profile: string
  readonly printer: string
  readonly mode: string | undefined
  readonly file: string
  readonly word: EvidenceWord
  /** The correction that its evidence asks for, and the half-width of its 95 % interval; undefined where nothing was measured. */
  readonly correction: { readonly value: number; readonly U: number } | undefined
}

export interface Differences {
  readonly stock: string
  readonly profiles: readonly Compared[]
  readonly settings: readonly SettingDifference[]
  readonly corrections: readonly CorrectionDifference[]
  /** Settings that all of them have alike. */
  readonly alike: readonly string[]
}

/** `setups` are the profiles in use of one stock. */
export function differencesOn(stock: string, setups: readonly Setup[]): Differences {
  const sorted = setups.toSorted((a, b) => (sortKey(a) < sortKey(b) ? -1 : 1))
  const keys = keysOf('media').filter((key) => KINDS.has(key.split('.')[0]!) && key !== 'feed.correction')
  const given = keys.filter((key) => sorted.some((setup) => settingAt(setup.profile, key.split('.'))))
  const apart = given.flatMap((key) => settingDifference(sorted, key) ?? [])
  return {
    stock,
    profiles: sorted.map(compared),
    settings: apart,
    corrections: pairs(sorted).flatMap(([a, b]) => correctionDifference(a, b) ?? []),
    alike: given.filter((key) => !apart.some((one) => one.key === key)),
  }
}

const sortKey = ({ profile, own }: Setup): string => `${profile.printer?.value ?? ''}\n${own.profile?.value ?? ''}`

const idOf = ({ own }: Setup): string => own.profile?.value ?? ''

function compared(setup: Setup): Compared {
  const facts = feedOf(setup)
  return {
    profile: idOf(setup),
    printer: setup.profile.printer?.value ?? '',
    mode: setup.profile.mode?.value,
    file: setup.file,
    word: verdictOf(facts).word,
    correction: resultOf(setup),
  }
}

/** Settings of the print; who a profile is and where it is kept is no difference of print. */
const KINDS: ReadonlySet<string> = new Set(
  [...schemaOf('media').properties.keys()].filter((key) =>
    ['mode', 'gap', 'feed', 'heat', 'drying', 'suction', 'carriage', 'web', 'colour'].includes(key),
  ),
)

/** What of a printer's document stands behind a setting. */
const BEHIND: readonly (readonly [RegExp, readonly string[]])[] = [
  [/^mode$/, ['modes', 'heads']],
  [/^gap$/, ['carriage.gaps']],
  [/^heat\.(before|platen|after)$/, ['heaters', 'drying.path-to-winding']],
  [/^drying\./, ['drying', 'heaters', 'ink']],
  [/^suction$/, ['suction']],
  [/^web\.tension$/, ['web.tension-levels', 'web.tension-range']],
  [/^web\.speed$/, ['web.speed-range']],
  [/^web\.slack-watch$/, ['web.slack-watch']],
  [/^colour\./, ['ink', 'heads.channels']],
]

function settingDifference(setups: readonly Setup[], key: string): SettingDifference | undefined {
  const fields = setups.map((setup) => settingAt(setup.profile, key.split('.')))
  const real = setups.map((setup) => realOf(setup, key))
  const [first] = fields
  const same = (value: SettingValue | undefined): boolean =>
    first === undefined || value === undefined ? first === undefined && value === undefined : sameValue(first.value, value)
  if (fields.every((field) => same(field?.value)) && sameReal(real)) return undefined
  const zone = /^heat\.(before|platen|after)$/.exec(key)?.[1]
  const behind = (BEHIND.find(([pattern]) => pattern.test(key))?.[1] ?? []).map((path) =>
    zone && path === 'heaters' ? `heaters.${zone}` : path,
  )
  const differing = behind.filter((path) => new Set(setups.map(({ printer }) => meaningAt(printer, path.split('.')))).size > 1)
  const build = differing.length > 0
  const all = real.every((one) => one !== undefined) && sameReal(real)
  return {
    key,
    values: fields.map((field) => field && writtenText(field)),
    real: setups.map((setup, i) => realText(setup, key, real[i])),
    why: build ? 'build' : 'nobody-knows',
    because: build
      ? `the printers differ in ${differing.join(' and ')}${all ? ', and it is the same to the web' : ''}`
      : behind.length === 0
        ? 'no document of a printer stands behind it, and nobody wrote down why'
        : `the printers are alike in ${behind.join(' and ')}, and nobody wrote down why`,
  }
}

/** What the web feels of a setting: Pa, N/m, degC behind a heater. */
function realOf(setup: Setup, key: string): Range | undefined {
  if (key === 'suction') {
    const { set } = suctionOf(setup)
    return set && exactly(set.pressure)
  }
  if (key === 'web.tension') {
    const tension = tensionOf(setup)
    return tension && exactly(tension.value)
  }
  const zone = heatOf(setup).zones.find((one) => key === `heat.${one.zone}`)
  return zone?.set && zone.web.ok ? zone.web.value.leave : undefined
}

const DIMENSIONS: Readonly<Record<string, Dimension>> = { suction: 'pressure', 'web.tension': 'line-tension' }

function realText(setup: Setup, key: string, real: Range | undefined): string | undefined {
  if (!real) return undefined
  const size = (value: number): string => shown(setup, value, DIMENSIONS[key] ?? 'temperature')
  return real.low === real.high ? size(real.typical) : `${size(real.typical)} (${size(real.low)} to ${size(real.high)})`
}

/** Low with low, typical with typical, high with high; two settings without such a thing are as they are written. */
function sameReal(real: readonly (Range | undefined)[]): boolean {
  const [first] = real
  return real.every((one) => {
    if (!first || !one) return first === one
    const { low, high } = differenceOf(one, first)
    return Math.max(Math.abs(low), Math.abs(high)) <= 1e-6 * Math.max(1, Math.abs(first.typical))
  })
}

/** A part of a document by what it means, whatever units it is written in. */
function meaningAt(document: unknown, path: readonly string[]): string {
  let at: unknown = document
  for (const key of path) at = (at as Readonly<Record<string, unknown>> | undefined)?.[key]
  return meaning(at)
}

function meaning(value: unknown): string {
  if (value instanceof Map)
    return [...value]
      .map(([key, inner]) => `${key}: ${meaning(inner)}`)
      .sort()
      .join(', ')
  if (Array.isArray(value)) return value.map(meaning).join(', ')
  if (typeof value !== 'object' || value === null) return String(value)
  if ('place' in value && 'value' in value) return meaning(value.value)
  if ('dimension' in value && 'si' in value) {
    const { dimension, si, second } = value as { dimension: string; si: number; second?: number }
    return `${dimension} ${Number(si.toPrecision(9))} ${second === undefined ? '' : Number(second.toPrecision(9))}`
  }
  return Object.entries(value)
    .filter(([key]) => key !== '$')
    .map(([key, inner]) => `${key}: ${meaning(inner)}`)
    .sort()
    .join(', ')
}

/** What a profile's evidence asks for, wherever it was measured; undefined where it asks for nothing. */
function resultOf(setup: Setup): { readonly value: number; readonly U: number } | undefined {
  const combined = feedOf(setup).reckoning?.combined
  return combined && { value: combined.correction, U: combined.U }
}

function correctionDifference(one: Setup, other: Setup): CorrectionDifference | undefined {
  const [a, b] = [resultOf(one), resultOf(other)]
  if (!a || !b) return undefined
  const [lawsA, lawsB] = [lengthLaws(one), lengthLaws(other)]
  const known: { readonly a: Range; readonly b: Range }[] = []
  const causes = lawsA.map(({ law, value }, i): CorrectionDifference['causes'][number] => {
    const there = lawsB[i]!.value
    if (!value.ok || !there.ok) {
      const [setup, problem] = value.ok ? [other, there] : [one, value]
      return { law, problem: `${idOf(setup)}: ${problem.ok ? '' : problem.problem.reason}` }
    }
    known.push({ a: value.value, b: there.value })
    return { law, range: differenceOf(there.value, value.value) }
  })
  const apart = apartOf({ a, b, causes: known })
  if (!apart.ok) return undefined
  const wear = [...new Set([...wearOf(one), ...wearOf(other)])]
  const { verdict } = apart.value
  const why = verdict === 'none' ? undefined : verdict === 'causes' ? 'build' : wear.length > 0 ? 'wear' : 'nobody-knows'
  return { a: idOf(one), b: idOf(other), apart: apart.value, causes, why, wear }
}

/** Days in which work on a machine may still be seen in a comparison. */
const LONG_AGO = 730

/** What may have moved the feed of one machine: what was done to it, a drift that is more than its own uncertainty, a change its history shows. */
function wearOf(setup: Setup): readonly string[] {
  const { printer, today, profile } = setup
  const name = profile.printer?.value ?? ''
  const events = (printer?.events?.items ?? []).flatMap((item) => {
    const one = openingOf(item)
    const age = one && daysBetween(one.date, today)
    return one && age !== undefined && age >= 0 && age <= LONG_AGO && one.opens.includes('feed')
      ? [`${name}: ${one.what} on ${one.date}`]
      : []
  })
  const drift = feedDriftOf(setup)
  const moves = drift && Math.abs(drift.perMonth) > drift.perMonthU ? [`${idOf(setup)}: ${driftSentence(setup, drift)}`] : []
  const change = feedChangeOf(setup)
  const changed = change ? [`${idOf(setup)}: its feed changed between ${change.after} and ${change.by}`] : []
  return [...events, ...moves, ...changed]
}

/** On different printers alone: the same stock twice on one machine is another question. */
function pairs(setups: readonly Setup[]): readonly (readonly [Setup, Setup])[] {
  return setups.flatMap((a, i) =>
    setups.slice(i + 1).flatMap((b) => (a.profile.printer?.value === b.profile.printer?.value ? [] : [[a, b] as const])),
  )
}
