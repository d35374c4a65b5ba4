// The web is warm enough to soften where the limit of its stock would still allow it.

import { softeningText, webText } from '../../../model/heat-words.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { tensionOf } from '../../web/tension.ts'
import { heatOf } from '../facts.ts'
import { WHERE } from '../path.ts'
import { EXAMPLE_FILM, heatToldByBase, isTold, onExample } from '../shared.ts'

export const rule = defineRule({
  code: 'softening',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The web softens at a heater, under pull.',
  docs: `Within the temperature its stock is allowed, the web is already at the temperature where film or adhesive turns soft. Under the pull of the take-up it then stretches and keeps
the stretch, narrows, or shows the pattern of what it lies on; prints come out long and edges wave. Lower the heater or the tension, or correct \`softens-at\` where the data sheet says
otherwise. It is told only where
the stock's document gives \`softens-at\`: cloth and films that are made for heat go above what is typical of their family every day. Caution: a soft web wraps and jams; keep hands out of hot and moving parts, and
follow the safety documents of machine and material.`,
  check({ setup, report }) {
    const { zones, softens, limit, margins } = heatOf(setup)
    if (softens?.origin !== 'given') return
    const soft = zones.filter(({ zone, set, web }) => {
      const margin = margins.get(zone)
      if (!set || !web.ok || (limit && margin && isTold(limit, margin))) return false
      return web.value.leave.typical >= softens.range.typical
    })
    const zone = soft.sort((a, b) => b.set!.value.si - a.set!.value.si)[0]
    if (!zone?.web.ok || heatToldByBase(setup, zone)) return
    const { units } = setup.shop
    const tension = tensionOf(setup)
    const pull = tension
      ? `the pull of ${formatSi(tension.value, 'line-tension', { system: units, digits: 2 })} stretches it there for good`
      : 'any pull stretches it there for good'
    report(
      zone.set!.place,
      `The web reaches ${webText(zone.web.value.leave, units)} ${WHERE[zone.zone]} and ${softeningText(softens, units)}: ${pull}.`,
    )
  },
  examples: [
    {
      name: 'below the limit, above softening',
      text: onExample(
        'heat: {after: $070 °C$0}\nweb: {tension: 30 N/m}\n',
        soft('max-web-temperature: 70 °C\nsoftens-at: 60 °C'),
      ),
      message:
        'The web reaches 63 °C (59 to 65) behind the platen and softens at 60 °C: the pull of 30 N/m stretches it there for good.',
    },
    {
      name: 'no tension given, in US units',
      text: `${onExample('heat: {after: $070 °C$0}\n', soft('max-web-temperature: 70 °C\nsoftens-at: 60 °C'))}#- rollbook.yaml
shop: S
units: us
`,
      message:
        'The web reaches 145 °F (138 to 149) behind the platen and softens at 140 °F: any pull stretches it there for good.',
      testOnly: true,
    },
    { name: 'well below', text: onExample('heat: {after: 60 °C}\n', soft('max-web-temperature: 70 °C\nsoftens-at: 80 °C')) },
    {
      name: 'a maker who allows more than is typical knows why',
      text: onExample('heat: {after: 80 °C}\n', soft('max-web-temperature: 100 °C')),
      testOnly: true,
    },
    {
      name: 'above its limit, which other rules tell',
      text: onExample(
        `heat: {after: 80 °C}
`,
        EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', 'max-web-temperature: 70 °C\nsoftens-at: 60 °C\n'),
      ),
      testOnly: true,
    },
    {
      name: 'near its limit',
      text: onExample('heat: {after: $077 °C$0}\n', soft('max-web-temperature: 70 °C\nsoftens-at: 60 °C')),
      message: 'The web reaches 68 °C (64 to 71) behind the platen and softens at 60 °C: any pull stretches it there for good.',
      testOnly: true,
    },
    {
      name: 'more likely than not above its limit, which web-near-limit tells',
      text: onExample(
        `heat: {after: 79 °C}
`,
        EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', 'max-web-temperature: 70 °C\nsoftens-at: 60 °C\n'),
      ),
      testOnly: true,
    },
    {
      name: 'the hotter of two',
      text: onExample(
        `heat: {platen: 50 °C, after: $070 °C$0}
web: {tension: 30.25 N/m}
`,
        soft('max-web-temperature: 70 °C\nsoftens-at: 45 °C'),
      ),
      message:
        'The web reaches 63 °C (59 to 65) behind the platen and softens at 45 °C: the pull of 30 N/m stretches it there for good.',
      testOnly: true,
    },
    {
      name: 'the hotter of two comes first',
      text: onExample('heat: {before: $070 °C$0, platen: 60 °C}\n', soft('max-web-temperature: 70 °C\nsoftens-at: 45 °C')),
      message: 'The web reaches 63 °C (59 to 65) ahead of the platen and softens at 45 °C: any pull stretches it there for good.',
      testOnly: true,
    },
    {
      name: 'the limit of the family',
      text: onExample(
        `heat: {after: 60 °C}
`,
        EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', 'softens-at: 52 °C\n'),
      ),
      testOnly: true,
    },
  ],
})

function soft(lines: string): string {
  return EXAMPLE_FILM.replace('max-web-temperature: 50 °C', lines)
}
