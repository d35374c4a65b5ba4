// Settings of a profile carried to another printer by what the web feels, and to the safe side alone: the same pressure, no more pull, no hotter a web, no
// lower a gap. Where the other machine's scale is not measured, no heat is carried, nor a pull. What was measured there is to be expected here, and no more.

import { feedOf } from '../../areas/feed/facts.ts'
import { correctionText, plusMinus } from '../../areas/feed/words.ts'
import { heatOf } from '../../areas/heat/facts.ts'
import { HEATER, type Zone } from '../../areas/heat/path.ts'
import { onStep } from '../../areas/heat/shared.ts'
import { suctionOf } from '../../areas/suction/facts.ts'
import { tensionOf } from '../../areas/web/tension.ts'
import type { Range } from '../../calc/range.ts'
import { levelName } from '../../model/level-names.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { shown } from '../../model/shown.ts'
import { formatQuantity, formatSi, rewriteIn } from '../../quantities/format.ts'
import { type Chosen, chosen, taken, toMeasure } from './chosen.ts'
import type { Draft } from './draft.ts'

export interface Carried {
  readonly settings: readonly Chosen[]
  /** What is not carried and why, and what is to be expected: sentences for the head of the profile. */
  readonly notes: readonly string[]
}

/** `draft` holds stock, printer and mode of the new profile; `like` is the one it is to be like, of the same stock. */
export function carriedFrom(draft: Draft, like: Setup): Carried {
  const id = like.own.profile?.value ?? 'the other profile'
  const notes: string[] = [expectation(like, id)]
  const settings = [
    ...heats(draft, like, id, notes),
    suction(draft.setup(), like, id),
    tension(draft.setup(), like, id, notes),
    ...same(draft.setup(), like, id),
  ]
  return { settings: settings.filter((one) => one !== undefined), notes }
}

/** The least of a printer's gaps that is no lower than the other profile's; undefined where there is none, or where that has none. */
export function gapLike({ printer }: Setup, like: Setup): Chosen | undefined {
  const least = like.profile.gap?.value
  const gaps = printer?.carriage?.gaps?.items.map(({ value }) => value) ?? []
  const found = least && gaps.filter(({ si }) => si >= least.si - 1e-9).sort((a, b) => a.si - b.si)[0]
  return (
    found &&
    chosen('gap', formatQuantity(found), taken(like.own.profile?.value ?? '', `no lower than its ${formatQuantity(least)}.`))
  )
}

function expectation(like: Setup, id: string): string {
  const facts = feedOf(like)
  const combined = facts.reckoning?.combined
  const printer = like.profile.printer?.value
  return combined
    ? `On ${printer} this stock asks for ${correctionText(facts, combined.correction)} ${plusMinus(combined.U)} (${id}). It may be near that here and need not be: two machines feed differently.`
    : `Nothing that counts was measured on ${printer} (${id}): there is no correction to expect.`
}

/** In the order in which the web passes them, each beside those before it. */
function heats(draft: Draft, like: Setup, id: string, notes: string[]): readonly Chosen[] {
  const out: Chosen[] = []
  const there = heatOf(like).zones
  for (const zone of heatOf(draft.setup()).zones) {
    const { zone: name, heater, range } = zone
    if (!heater || !range) continue
    const unit = heater.range?.items[0]?.value.unit
    const text = (celsius: number): string => formatSi(celsius, 'temperature', { digits: 5, ...(unit && { unit }) })
    const source = there.find((one) => one.zone === name)
    const lowest = (why: string): void => {
      out.push(
        chosen(
          `heat.${name}`,
          text(range[0]),
          toMeasure(`the lowest this heater is set to: ${why}. Raise it by test strips, and read the web.`),
        ),
      )
      notes.push(`Heat is not carried to the ${HEATER[name]}: ${why}.`)
    }
    if (!source?.set || !source.web.ok) {
      lowest(`how warm the web gets there on ${like.profile.printer?.value} is not known`)
      continue
    }
    if (zone.coupling.origin !== 'printer') {
      lowest(`how well it couples to the web is not measured (heaters.${name}.coupling)`)
      continue
    }
    const tried = Object.fromEntries(out.map((one) => [one.path.join('.'), one.text]))
    const web = source.web.value.leave
    const celsius = warmest(zone, (t) => isCooler(draft.setup({ ...tried, [`heat.${name}`]: text(t) }), name, web))
    if (celsius === undefined) {
      lowest(`no setting of it is sure to leave the web as cool as there`)
      continue
    }
    const warm = (t: number): string => shown(draft.setup(), t, 'temperature')
    out.push(
      chosen(
        `heat.${name}`,
        text(celsius),
        taken(
          id,
          `the warmest that leaves the web no hotter than the ${formatQuantity(source.set.value)} there, typically ${warm(web.typical)}, up to ${warm(web.high)}. Read the web.`,
        ),
      ),
    )
  }
  return out
}

/** Typical with typical, high with high; and never beyond what the stock bears. */
function isCooler(setup: Setup, name: Zone['zone'], web: Range): boolean {
  const { zones, limit } = heatOf(setup)
  const zone = zones.find((one) => one.zone === name)
  if (!zone?.web.ok) return false
  const { leave } = zone.web.value
  return leave.typical <= web.typical + 1e-6 && leave.high <= web.high + 1e-6 && (!limit || leave.high <= limit.range.low)
}

/** The highest step of a heater that fits, warmer webs coming of warmer settings: halved, not tried one after the other. */
function warmest(zone: Zone, fits: (celsius: number) => boolean): number | undefined {
  const [low, high] = zone.range!
  const step = zone.step !== undefined && zone.step > 0 ? zone.step : 1
  let [least, most] = [-1, Math.floor((high - low) / step + 1e-9)]
  while (least < most) {
    const middle = Math.ceil((least + most) / 2)
    if (fits(onStep(zone, low + middle * step))) least = middle
    else most = middle - 1
  }
  return least < 0 ? undefined : onStep(zone, low + least * step)
}

/** The same pressure; of levels the weakest that is no weaker: too little is the worse mistake, since heads strike what stands up. */
function suction(setup: Setup, like: Setup, id: string): Chosen | undefined {
  const { set } = suctionOf(like)
  if (!set || !setup.printer?.suction) return undefined
  const { levels } = suctionOf(setup)
  const size = (pressure: number): string => shown(setup, pressure, 'pressure')
  if (levels.length === 0) {
    if (setup.printer.suction.levels) return undefined
    const value = like.profile.suction?.value
    const text =
      typeof value === 'object'
        ? formatQuantity(value)
        : formatSi(set.pressure, 'pressure', { system: setup.shop.units, digits: 4 })
    return chosen('suction', text, taken(id, 'the same pressure under the web.'))
  }
  const level = levels.find(({ pressure }) => pressure >= set.pressure * (1 - 1e-6)) ?? levels.at(-1)!
  const compared =
    Math.abs(level.pressure - set.pressure) <= 1e-6 * set.pressure
      ? 'the same pressure'
      : `${size(level.pressure)}, where ${size(set.pressure)} hold it there`
  return chosen('suction', level.name!, taken(id, `${compared}. Look at the edges before the carriage moves.`))
}

/** The same pull or less, where the printer says what its settings pull. */
function tension(setup: Setup, like: Setup, id: string, notes: string[]): Chosen | undefined {
  const { web } = setup.printer ?? {}
  const pull = tensionOf(like)?.value
  if (pull === undefined || !web) return undefined
  const size = (value: number): string => shown(setup, value, 'line-tension')
  const levels = [...(web['tension-levels']?.entries ?? [])]
    .map(([key, { value }]) => ({ name: levelName(setup.printer, 'web.tension', Number(key)), pull: value.si }))
    .sort((a, b) => a.pull - b.pull)
  if (levels.length > 0) {
    const level = levels.findLast((one) => one.pull <= pull * (1 + 1e-6))
    if (level) return chosen('web.tension', level.name, taken(id, `${size(level.pull)}, and no more than its ${size(pull)}.`))
    notes.push(
      `The pull is not carried: the least this printer has is ${size(levels[0]!.pull)}, and ${size(pull)} pull it there.`,
    )
    return undefined
  }
  const [low, high] = web['tension-range']?.items.map(({ value }) => value) ?? []
  if (!low || !high) {
    notes.push('The pull is not carried: what this printer pulls is not measured (web.tension-levels or web.tension-range).')
    return undefined
  }
  if (pull < low.si * (1 - 1e-6)) {
    notes.push(`The pull is not carried: the least this printer has is ${formatQuantity(low)}, and ${size(pull)} pull it there.`)
    return undefined
  }
  const value = like.profile.web?.tension?.value
  const text =
    pull > high.si
      ? formatQuantity(high)
      : typeof value === 'object'
        ? rewriteIn(value, low.unit)
        : formatSi(pull, 'line-tension', { unit: low.unit, digits: 4 })
  return chosen('web.tension', text, taken(id, `no more than its ${size(pull)}.`))
}

/** What is the print's and not the machine's; of the ink only where both machines print with the same. */
function same({ printer }: Setup, like: Setup, id: string): readonly (Chosen | undefined)[] {
  const { carriage, web, colour } = like.profile
  const inkOf = (of: Setup['printer']): string =>
    `${of?.ink?.base?.value} ${of?.heads?.channels?.items.map(({ value }) => value).join()}`
  const sameInk = printer?.ink?.base !== undefined && inkOf(printer) === inkOf(like.printer)
  const limit = colour?.['ink-limit']
  return [
    carriage?.strikes && chosen('carriage.strikes', writtenText(carriage.strikes), taken(id, 'as often as there.')),
    web?.wound && chosen('web.wound', web.wound.value, taken(id, 'wound as there.')),
    sameInk && limit
      ? chosen(
          'colour.ink-limit',
          writtenText(limit),
          taken(id, 'both print with inks of one kind; find it by a series of solids.'),
        )
      : undefined,
  ]
}
