// The feed correction was found at another suction than the one now set, and suction changes the length.
import type { Place } from '../../../model/field.ts'
import { resolveLevel } from '../../../model/level-names.ts'
import { readBacksOf } from '../../../model/read-backs.ts'
import type { SettingValue } from '../../../model/setting.ts'
import type { Setup } from '../../../model/setup.ts'
import { equalSi } from '../../../quantities/compare.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { feedOf } from '../../feed/facts.ts'
import { SOFT_FILM, SUCTION_PRINTER } from '../examples.ts'
import { type SuctionFacts, type SuctionStep, suctionChange, suctionOf } from '../facts.ts'
import { lengthChangeText, stepText } from '../words.ts'

/** A part this small of the tolerance changes it by a thirtieth when they add up as squares. */
const WORTH_SAYING = 0.25

export const rule = defineRule({
  code: 'suction-feed-coupling',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'The feed correction was found at another suction than the one set.',
  docs: `Suction drags on the web and stretches it while it is printed; the relaxed print comes out shorter by as much. A correction found at one
suction therefore does not hold at another. The profile shows that this happened: it takes the correction from its base but sets its own suction, or the machine was
found at another suction on the day of the newest check. Print the length pattern again at the suction that is set. The figure is typical and told only where it is more than a quarter of
the shop's length tolerance.
${READ_PATTERN}`,
  check({ setup, report }) {
    const facts = suctionOf(setup)
    const found = facts.set && (fromBase(setup, facts) ?? fromMachine(setup, facts))
    if (!found || !facts.set) return
    const change = suctionChange(facts, found.before.pressure, facts.set.pressure)
    if (!change.ok || Math.abs(change.value.typical) < WORTH_SAYING * setup.shop.tolerance.length.value) return
    const { units } = setup.shop
    report(
      found.place,
      `${found.why} at ${stepText(found.before, units)}; at ${stepText(facts.set, units)} prints typically come out ${lengthChangeText(change.value, units)}. Print a new check.`,
    )
  },
  examples: [
    {
      name: 'the correction is the base’s, the suction is not',
      text: `#- e.media.yaml
profile: e
base: b
suction: $03$0
#- b.media.yaml
profile: b
stock: s
printer: p
mode: m
suction: 1
feed: {correction: +0.20 %}
${SOFT_FILM}${SUCTION_PRINTER}`,
      message:
        'The correction comes from the base b and was found at level 1 (100 Pa); at level 3 (800 Pa) prints typically come out 0.77 mm/m (0.14 to 1.4) shorter. Print a new check.',
    },
    {
      name: 'the machine stood at another level when it was checked',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 1
feed:
  correction: +0.20 %
  checks:
    - {date: $02026-03-20$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
keyed: [{date: 2026-03-20, suction: 2}]
${SOFT_FILM}${SUCTION_PRINTER}`,
      message:
        'On the day of this check the machine stood at level 2 (400 Pa); at level 1 (100 Pa) prints typically come out 0.33 mm/m (0.06 to 0.6) longer. Print a new check.',
    },
    {
      name: 'the level read back as its pressure',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 1
feed:
  correction: +0.20 %
  checks:
    - {date: $02026-03-20$0, commanded: 1000 mm, measured: 998 mm, applied: 0 %}
keyed: [{date: 2026-03-20, suction: 800 Pa}]
${SOFT_FILM}${SUCTION_PRINTER}`,
      message:
        'On the day of this check the machine stood at level 3 (800 Pa); at level 1 (100 Pa) prints typically come out 0.77 mm/m (0.14 to 1.4) longer. Print a new check.',
    },
    {
      name: 'its own correction',
      text: `#- e.media.yaml
profile: e
base: b
suction: 3
feed: {correction: +0.28 %}
#- b.media.yaml
profile: b
stock: s
printer: p
mode: m
suction: 1
feed: {correction: +0.20 %}
${SOFT_FILM}${SUCTION_PRINTER}`,
      testOnly: true,
    },
    {
      name: 'its own check',
      text: `#- e.media.yaml
profile: e
base: b
suction: 3
feed:
  correction: +0.28 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 997.2 mm, applied: 0 %}
#- b.media.yaml
profile: b
stock: s
printer: p
mode: m
suction: 1
feed: {correction: +0.20 %}
${SOFT_FILM}${SUCTION_PRINTER}`,
    },
  ],
})

interface Found {
  readonly before: SuctionStep
  readonly place: Place
  readonly why: string
}

/** The profile sets its own suction and takes the correction of the base that has another. */
function fromBase(setup: Setup, { levels, set }: SuctionFacts): Found | undefined {
  const { own, bases, profile } = setup
  const correction = profile.feed?.correction
  if (!own.suction || !correction || own.feed?.correction || own.feed?.checks?.items.length) return undefined
  const from = bases.findIndex((base) => base.file === correction.place.file)
  const there = from < 0 ? undefined : bases.slice(from).find((base) => base.content?.suction)?.content?.suction
  const before = there && stepOf(resolveLevel(setup.printer, 'suction', there)!.value, levels)
  if (!before || before.pressure === set?.pressure) return undefined
  return { before, place: own.suction.place, why: `The correction comes from the base ${bases[from]!.baseName} and was found` }
}

/** The machine was read back at another suction on the day of the newest check. */
function fromMachine(setup: Setup, { levels, set }: SuctionFacts): Found | undefined {
  if (!setup.own.keyed) return undefined
  const checked = feedOf(setup).newest?.check.date
  const read = readBacksOf(setup.own.keyed, 'suction', setup.today).find(({ date }) => date?.value === checked?.value)
  const before = read?.suction && stepOf(read.suction.value, levels)
  if (!checked || !before || before.pressure === set?.pressure) return undefined
  return { before, place: checked.place, why: 'On the day of this check the machine stood' }
}

function stepOf(given: SettingValue, levels: readonly SuctionStep[]): SuctionStep | undefined {
  if (typeof given !== 'object') return levels.find(({ level }) => level === given)
  return levels.find(({ pressure }) => equalSi(pressure, given.si, 'pressure')) ?? { level: undefined, pressure: given.si }
}
