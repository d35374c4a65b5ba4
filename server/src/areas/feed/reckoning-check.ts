// One feed check as it is worked out on paper: what was measured, what is put right, what it asks for, and where its uncertainty comes from.
import type { FeedCheckResult } from '../../calc/feed.ts'
import type { ImpliedCorrection } from '../../calc/feed-check.ts'
import { type LengthCause, type LengthPart, type LengthStep, ruleReferenceTemperature } from '../../calc/measurement.ts'
import type { Check } from '../../model/generated/documents.ts'
import { roomOn } from '../../model/room.ts'
import type { Setup } from '../../model/setup.ts'
import { formatSi } from '../../quantities/format.ts'
import { type Block, lines, type Passage } from '../../report/page.ts'
import type { Carry } from './carry.ts'
import { carryText, eventText } from './doubt-words.ts'
import type { FeedEvidence } from './evidence.ts'
import { type FeedFacts, resultOf } from './facts.ts'
import { asWritten, degrees, Lengths, percent, plainPercent, standard } from './reckoning-words.ts'
import { K95, plusMinusOfOne } from './words.ts'

/** Checks listed, the newest; older ones are counted. */
const MOST_LISTED = 24
/** Checks worked out on paper, the newest: more of them say the same. */
export const MOST_WORKED = 12

/** All checks in one table, the ones left out with their reasons below it. */
export function checksPassage(setup: Setup, facts: FeedFacts): Passage {
  const shown = facts.evidence.slice(-MOST_LISTED)
  const hidden = facts.evidence.slice(0, -MOST_LISTED)
  const reasons = shown.flatMap((e) => standingText(facts, e) ?? [])
  const blocks: Block[] = [
    lines(
      'A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature',
      `of ${degrees(setup.shop.referenceTemperature.value)} and to the relaxed web.`,
    ),
    {
      kind: 'table',
      header: ['check', 'date', 'commanded', 'measured', 'applied', 'asks for', '95 % interval', 'counts for'],
      rows: shown.map((e) => row(facts, e)),
    },
  ]
  const counting = hidden.filter((e) => whyOut(facts, e) === undefined).length
  if (hidden.length > 0)
    reasons.unshift(`${hidden.length} earlier checks are not listed${counting > 0 ? `; ${counting} of them count` : ''}.`)
  if (reasons.length > 0) blocks.push({ kind: 'items', lines: reasons })
  return { heading: 'What the checks say', blocks }
}

/** What must be said of a check beside its numbers. */
function standingText(facts: FeedFacts, evidence: FeedEvidence): string | undefined {
  const name = `Check ${evidence.index + 1}`
  const out = whyOut(facts, evidence)
  if (out !== undefined) return `${name} is left out: ${out}.`
  if (evidence.doubt) return `${name} proves nothing of today: ${evidence.reason}.`
  return evidence.sameDay && `${name} counts as made after ${eventText(evidence.sameDay.what)} the same day.`
}

/** Why a check does not count, in the words of a sentence without its full stop; undefined for one that counts. */
export function whyOut(facts: FeedFacts, evidence: FeedEvidence): string | undefined {
  const result = resultOf(facts, evidence)
  if (result?.use === 'included') return undefined
  return evidence.reason ?? result?.reason ?? 'it cannot be reckoned'
}

function row(facts: FeedFacts, evidence: FeedEvidence): readonly string[] {
  const { check, index } = evidence
  const result = resultOf(facts, evidence)
  const written = (value: Check['measured'] | Check['applied']): string => (value ? asWritten(value.value) : '—')
  const share = result?.use === 'included' ? plainPercentShare(result.weight) : 'left out'
  return [
    String(index + 1),
    check.date?.value ?? '—',
    written(check.commanded),
    written(check.measured),
    written(check.applied),
    result?.implied ? percent(result.now ?? result.implied.correction) : '—',
    result?.implied ? plusMinusOfOne(result.implied.u) : '—',
    result?.suspect ? `${share}, suspect` : share,
  ]
}

/** The working of one check that counts. */
export function workingPassage(setup: Setup, evidence: FeedEvidence, result: FeedCheckResult): Passage {
  const { check, index } = evidence
  const title = [`Check ${index + 1}`, check.date?.value, check.with?.value, check.lot && `lot ${check.lot.value}`]
  return {
    heading: title.filter((t) => t !== undefined).join(', '),
    nested: true,
    blocks: result.implied ? [working(setup, check, result.implied, evidence.carries), ...standing(result)] : [],
  }
}

function working(setup: Setup, check: Check, implied: ImpliedCorrection, carries: readonly Carry[]): Block {
  const at = new Lengths(setup)
  const { measured, expected, correction, u, perMetre } = implied
  const rows: (readonly string[])[] = [['measured', at.text(measured.read), '']]
  for (const step of measured.steps)
    rows.push([stepWords(setup, check, step), at.change(step.change), `× ${step.factor.toFixed(7)}`])
  if (measured.steps.length > 0) rows.push(['relaxed, at the reference temperature', at.text(measured.length), ''])
  const applied = check.applied?.value.si ?? 0
  const asked = `(1 ${applied < 0 ? '−' : '+'} ${Math.abs(Number(applied.toPrecision(9)))}) · ${at.bare(expected / (1 + applied))} / ${at.bare(measured.length)} − 1`
  rows.push(['asks for', percent(correction), asked])
  for (const part of measured.parts)
    rows.push([
      partWords(setup, check, part),
      standard(part.u * perMetre),
      `standard uncertainty, ${at.spread(part.u)} on the length: ${derivation(at, part)}`,
    ])
  rows.push([
    'standard uncertainty',
    standard(u),
    `of all together, ${at.spread(measured.u)} on the length: the root of the sum of squares`,
  ])
  rows.push(['95 % interval', plusMinusOfOne(u), `${K95.toFixed(2)} times that`])
  for (const carry of carries)
    rows.push([carryText(carry, setup), percent(carry.shift), `standard uncertainty ${standard(carry.u)}, shared`])
  if (carries.length > 0)
    rows.push(['asks for under the settings of now', percent(carries.reduce((sum, { shift }) => sum + shift, correction)), ''])
  return { kind: 'table', header: ['', '', ''], rows }
}

function stepWords(setup: Setup, check: Check, { cause }: LengthStep): string {
  const reference = degrees(setup.shop.referenceTemperature.value)
  if (cause === 'tension') return 'stretched by the tension of the web'
  if (cause === 'rule-error') return `what ${check.with?.value ?? 'the rule'} was found to show too much`
  if (cause === 'humidity') {
    const [dry, damp] = setup.shop.climate.humidity.value
    const known = check.climate?.humidity ?? roomOn(setup.printer, check.date?.value ?? '')?.humidity
    return known
      ? `air at ${asWritten(known.value)} instead of ${formatSi((dry + damp) / 2, 'humidity', { unit: '%RH', digits: 3 })}`
      : 'air at a humidity nobody wrote down'
  }
  const room = check.climate?.temperature ? asWritten(check.climate.temperature.value) : reference
  if (cause === 'web-temperature')
    return check.web
      ? `web at ${asWritten(check.web.value)} instead of ${reference}`
      : check.climate?.temperature || roomOn(setup.printer, check.date?.value ?? '')?.temperature
        ? `web at ${room}, as the room, instead of ${reference}`
        : `web between the room and the platen, nobody wrote it down, instead of ${reference}`
  return `rule at ${room}, true at ${degrees(ruleReferenceTemperature)}`
}

function partWords(setup: Setup, check: Check, { cause, kind, assumed, divisor }: LengthPart): string {
  const rule = check.with?.value ?? 'the rule'
  const expansion = setup.material.property('expansion')
  const family = setup.stock?.family?.value
  const known = expansion?.origin === 'given' ? 'given by the stock' : `typical of ${family ?? 'its family'}`
  const words: Readonly<Record<LengthCause, string>> = {
    reading: divisor < 2.2 ? 'reading, as stated with it' : `reading both edges on ${rule}`,
    'limit-of-error': `limit of error of ${rule}`,
    'rule-temperature': `temperature of ${rule}`,
    'web-temperature': kind === 'random' ? 'temperature of the web on that day' : 'temperature of the web',
    'web-expansion': `expansion of the web, ${known}`,
    humidity: 'humidity of the day',
    'moisture-expansion': 'growth of the web with humidity',
    'rule-error': `known error of ${rule}`,
    tension: 'stretch of the web under tension',
  }
  const notes = [...(kind === 'systematic' ? ['shared'] : []), ...(assumed ? ['assumed'] : [])]
  return notes.length === 0 ? words[cause] : `${words[cause]} (${notes.join(', ')})`
}

/** What it is made of: half the width of where it lies, by the root that turns that into a standard deviation; a ± that somebody wrote is a 95 % interval. */
function derivation(at: Lengths, { cause, basis, divisor }: LengthPart): string {
  const by = Math.abs(divisor - K95) < 1e-3 ? '1.96' : divisor < 2 ? '√3' : '√6'
  switch (cause) {
    case 'reading':
      return by === '√6' ? `steps of ${at.rough(basis)} / √6` : `${at.spread(basis)} either way / ${by}`
    case 'limit-of-error':
      return `${at.spread(basis)} either way / ${by}`
    case 'rule-error':
      return `as stated / ${by}`
    case 'web-expansion':
      return `${formatSi(basis, 'expansion', { digits: 2 })} either way / ${by}, by the difference in temperature`
    case 'tension':
      return `${plainPercent(basis)} either way / ${by}`
    case 'humidity':
      return `${formatSi(basis, 'humidity', { unit: '%RH', digits: 2 })} either way / ${by}, by the growth with humidity`
    case 'moisture-expansion':
      return `${formatSi(basis, 'moisture-expansion', { digits: 2 })} either way / ${by}, by the difference in humidity`
    default:
      return `${formatSi(basis, 'temperature-difference', { unit: 'K', digits: 2 })} either way / ${by}${by === '√6' ? ' (half of the variance)' : ''}, by the expansion`
  }
}

function standing({ weight, residual, suspect }: FeedCheckResult): readonly Block[] {
  if (residual === undefined) return []
  const from = Math.abs(residual) < 5e-7 ? 'It agrees with the result' : `It lies ${percent(residual)} from the result`
  return [
    lines(
      `It counts for ${plainPercentShare(weight)}. ${from}.`,
      suspect === undefined ? undefined : `Suspect: ${suspectText(suspect)}.`,
    ),
  ]
}

/** How improbable it is: "of a hundred good series, 2 would show a check so far from what its others predict". */
export const suspectText = (share: number): string =>
  share < 0.01
    ? 'of a hundred good series not one would show a check so far from what the others predict'
    : `of a hundred good series ${Math.round(share * 100)} would show a check so far from what the others predict`

const plainPercentShare = (weight: number): string => `${(weight * 100).toFixed(weight > 0 && weight < 0.01 ? 1 : 0)} %`
