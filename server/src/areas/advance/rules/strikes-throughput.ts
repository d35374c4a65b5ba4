// Every dot is printed more than once: what that costs in output and ink.
import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { throughputOf } from '../facts.ts'

export const rule = defineRule({
  code: 'strikes-throughput',
  severity: 'hint',
  kinds: ['media'],
  summary: 'More than one strike divides the output.',
  docs: `Two strikes lay every dot twice: twice the density, half the output, twice the ink and twice the vapour to dry off and to extract. It is the right
thing for backlit prints and for flags that have to show from both sides; ignore it there. Where it was left over from another job, one strike is enough (computed;
for vapour the ink's safety data sheet and local codes come first).`,
  check({ setup, report }) {
    const { strikes, pass } = throughputOf(setup)
    const field = setup.profile.carriage?.strikes
    if (!field || strikes < 2 || !pass.ok || toldByBase(setup, field)) return
    const { areaRate, width } = pass.value
    report(
      field.place,
      `With ${strikes} strikes this prints ${shown(setup, areaRate, 'area-rate', 2)} instead of ${shown(setup, areaRate * strikes, 'area-rate', 2)} at ` +
        `${shown(setup, width, 'length', 4)} wide, and lays ${strikes} times the ink.`,
    )
  },
  examples: [
    {
      name: 'two strikes',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
carriage: {strikes: $02$0}
${MACHINE}${FILM}`,
      message: 'With 2 strikes this prints 4 m²/h instead of 8 m²/h at 1372 mm wide, and lays 2 times the ink.',
    },
    {
      name: 'one strike',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
carriage: {strikes: 1}
${MACHINE}${FILM}`,
    },
  ],
})
