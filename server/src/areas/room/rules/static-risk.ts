// Film or cloth in air so dry that it charges.
import { STATIC_HUMIDITY } from '../../../calc/room.ts'
import { formatQuantity, formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { onExample } from '../../heat/shared.ts'
import { climateOf } from '../facts.ts'

export const rule = defineRule({
  code: 'static-risk',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The newest check was made in air so dry that this stock charges.',
  docs: `In air below about 40 %RH films and synthetic cloth charge as they unwind and slide (common practice): they cling to the platen, draw dust and stray drops into the print, and
give shocks. Raise the humidity, let the roll stand in the room, and have earthing and ionisers looked at. Ignore it where the machine discharges the web itself. Caution: a discharge can
set solvent vapour on fire and startle a hand into moving parts. Earthing, ionisers and ventilation are for licensed practice; the safety documents of the machine and the material and
local codes come first.`,
  check({ setup, report }) {
    const { newest, charges } = climateOf(setup)
    if (!charges || !newest?.dry || !newest.humidity) return
    report(
      newest.humidity.place,
      `In air of ${formatQuantity(newest.humidity.value)} this stock charges as it unwinds: below about ${formatSi(STATIC_HUMIDITY, 'humidity')} (common practice) it clings, draws dust and can spark. Raise the humidity and keep solvent vapour and static apart.`,
    )
  },
  examples: [
    {
      name: 'film on a frosty day',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 21 °C, humidity: $028 %RH$0}}
`),
      message:
        'In air of 28 %RH this stock charges as it unwinds: below about 40 %RH (common practice) it clings, draws dust and can spark. Raise the humidity and keep solvent vapour and static apart.',
    },
    {
      name: 'damp enough since',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-10, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 21 °C, humidity: 28 %RH}}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 21 °C, humidity: 45 %RH}}
`),
    },
    {
      name: 'paper in the same air',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 21 °C, humidity: 28 %RH}}
`,
        '#- s.stock.yaml\nstock: s\nfamily: paper-coated\nthickness: 170 µm\n',
      ),
      testOnly: true,
    },
  ],
})
