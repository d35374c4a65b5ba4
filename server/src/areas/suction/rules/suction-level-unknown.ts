// A suction that cannot be set on this printer: a level it does not have, or a pressure where it has levels.
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { PRESSURE_PRINTER, SUCTION_PRINTER } from '../examples.ts'
import { type SuctionFacts, suctionOf } from '../facts.ts'
import { stepText } from '../words.ts'

export const rule = defineRule({
  code: 'suction-level-unknown',
  severity: 'error',
  risk: 'look',
  kinds: ['media'],
  summary: 'The suction is none that the printer can be set to.',
  docs: `The printer's document lists its suction levels with the pressure of each. A level it does not have cannot be keyed in, and the next shift
will guess. Where a printer is set by level, the profile gives a level; where it is set by pressure, a pressure. If the machine does have this level, measure
its pressure with the platen covered and add it to the printer's document.`,
  check({ document, setup, report }) {
    const facts = suctionOf(setup)
    const given = setup.profile.suction
    if (!facts.misfit || !given || typeof given.value === 'string' || toldByBase(setup, given, setup.profile.printer)) return
    const near = nearest(facts, setup)
    report(given.place, messageOf(facts, setup), {
      fixes: () => [near && writeSetting(document, ['suction'], near.name!, `Set suction ${near.name}`)],
    })
  },
  examples: [
    {
      name: 'a level too many',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $05$0 # as on the old machine
${SUCTION_PRINTER}`,
      message: 'p has no suction level 5; it has 1, 2, 3 and 4.',
      after: `profile: e
printer: p
suction: 4 # as on the old machine
`,
      fixes: ['Set suction 4'],
    },
    {
      name: 'a pressure on a printer with levels',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $04.5 hPa$0
${SUCTION_PRINTER}`,
      message: 'p is set by level, and none gives 450 Pa; the nearest is level 2 (400 Pa).',
      after: `profile: e
printer: p
suction: 2
`,
      fixes: ['Set suction 2'],
    },
    {
      name: 'a level on a printer set by pressure',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $03$0
${PRESSURE_PRINTER}`,
      message: 'p has no suction levels and is set by pressure: give one instead of a level.',
    },
    {
      name: 'a level it has, and the pressure of one',
      text: `#- e.media.yaml
profile: e
printer: p
suction: 0.4 kPa
${SUCTION_PRINTER}`,
    },
    {
      name: 'a printer that says nothing of suction',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
suction: 3
#- p.printer.yaml
printer: p
`,
    },
    {
      name: 'told once, in the base',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
base: b
mode: m
#- b.media.yaml
profile: b
printer: p
suction: 5
${SUCTION_PRINTER}`,
    },
  ],
})

function messageOf(facts: SuctionFacts, setup: Setup): string {
  const { units } = setup.shop
  const printer = setup.profile.printer!.value
  const given = setup.profile.suction!.value
  if (facts.misfit === 'no-levels') return `${printer} has no suction levels and is set by pressure: give one instead of a level.`
  if (typeof given !== 'object') {
    const names = facts.levels.map(({ name }) => name!)
    return `${printer} has no suction level ${given}; it has ${listed(names)}.`
  }
  const asked = stepText({ level: undefined, pressure: given.si }, units)
  return `${printer} is set by level, and none gives ${asked}; the nearest is ${stepText(nearest(facts, setup)!, units)}.`
}

function nearest({ levels }: SuctionFacts, setup: Setup): SuctionFacts['levels'][number] | undefined {
  const given = setup.profile.suction!.value
  const distance = (step: SuctionFacts['levels'][number]): number =>
    typeof given !== 'object' ? Math.abs(step.level! - Number(given)) : Math.abs(step.pressure - given.si)
  return levels.reduce<SuctionFacts['levels'][number] | undefined>(
    (best, step) => (!best || distance(step) < distance(best) ? step : best),
    undefined,
  )
}
