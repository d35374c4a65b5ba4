// A web tension that cannot be set on this printer: a level it does not have, or a pull where it has levels.
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { LEVEL_PRINTER, RANGE_PRINTER } from '../examples.ts'
import { type WebFacts, webOf } from '../facts.ts'
import { nearestLevel, nearestOf } from '../shared.ts'
import { pullText, tensionText } from '../words.ts'

export const rule = defineRule({
  code: 'tension-level-unknown',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web tension is none that the printer can be set to.',
  docs: `A printer with tension levels can pull at those levels only, and its document says what each one pulls. A level it does not have cannot be
keyed in; a pull between two levels has to be one of them. A printer with a range of tension has no levels. If the machine does have this level, measure what it pulls and add it to
the printer's document.`,
  check({ document, setup, report }) {
    const facts = webOf(setup)
    const given = setup.profile.web?.tension
    if (
      !given ||
      typeof given.value === 'string' ||
      !facts.misfit ||
      facts.misfit.startsWith('too-') ||
      toldByBase(setup, given, setup.profile.printer)
    )
      return
    report(given.place, messageOf(setup, facts), {
      fixes: () => [nearestLevel(document, facts, distanceTo(given.value))],
    })
  },
  examples: [
    {
      name: 'a level too many',
      text: `#- e.media.yaml
profile: e
printer: p
web: {wound: out, tension: $06$0}
${LEVEL_PRINTER}`,
      message: 'p has no tension level 6; it has 1, 2, 3 and 4.',
      after: `profile: e
printer: p
web: {wound: out, tension: 4}
`,
      fixes: ['Set tension level 4'],
    },
    {
      name: 'a pull between two levels',
      text: `#- e.media.yaml
profile: e
printer: p
web:
  tension: $018 N/m$0
${LEVEL_PRINTER}`,
      message: 'p is set by level, and none pulls 18 N/m; the nearest is level 2 (15 N/m).',
      after: `profile: e
printer: p
web:
  tension: 2
`,
      fixes: ['Set tension level 2'],
    },
    {
      name: 'a level on a printer without',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: $02$0}
${RANGE_PRINTER}`,
      message: 'p has no tension levels: give a pull from 5 N/m to 60 N/m.',
    },
    {
      name: 'a level it has',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 3}
${LEVEL_PRINTER}`,
    },
    {
      name: 'the pull of a level, in other units',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 0.25 N/cm}
${LEVEL_PRINTER}`,
    },
  ],
})

function messageOf(setup: Setup, { misfit, levels, range }: WebFacts): string {
  const { units } = setup.shop
  const printer = setup.profile.printer!.value
  const given = setup.profile.web!.tension!.value
  if (misfit === 'no-levels' && range)
    return `${printer} has no tension levels: give a pull from ${pullText(range[0], units)} to ${pullText(range[1], units)}.`
  if (typeof given !== 'object')
    return `${printer} has no tension level ${given}; it has ${listed(levels.map(({ name }) => name))}.`
  const near = nearestOf(levels, distanceTo(given))!
  return `${printer} is set by level, and none pulls ${pullText(given.si, units)}; the nearest is ${tensionText({ value: near.tension, name: near.name }, units)}.`
}

const distanceTo =
  (given: number | string | { readonly si: number }) =>
  (step: WebFacts['levels'][number]): number =>
    typeof given === 'object' ? Math.abs(step.tension - given.si) : Math.abs(step.level - Number(given))
