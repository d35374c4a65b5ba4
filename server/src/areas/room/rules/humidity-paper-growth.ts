// A check of paper or canvas was made in air outside the shop's climate, so far that the stock's growth alone exceeds the length tolerance.
import { changeText, strainWords, valueText } from '../../../model/range-words.ts'
import { formatQuantity, formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { onExample } from '../../heat/shared.ts'
import { climateOf } from '../facts.ts'

export const rule = defineRule({
  code: 'humidity-paper-growth',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A length check was made in air in which this stock is longer or shorter by more than the tolerance.',
  docs: `Paper and canvas lengthen with the humidity they take up. This check was made outside the humidity the shop keeps, and from the nearest end of that range alone the stock changes
its length by more than the shop's tolerance: the correction it asks for is good for that weather only. Bring the room back, let the roll stand in it for a day, and check again; or leave
the check out with that reason. Reckoned for a stock at rest in that air, which a fresh roll is not yet, and straight on
below 30 and above 70 %RH, where paper moves more (common practice).`,
  check({ setup, report }) {
    const { units, tolerance, climate } = setup.shop
    const [low, high] = climate.humidity.value
    const limit = tolerance.length.value
    for (const { evidence, growth, humidity } of climateOf(setup).checks) {
      if (!growth || !humidity || evidence.leftOut !== undefined || !evidence.recent) continue
      const shrinks = growth.typical < 0
      if ((shrinks ? -growth.high : growth.low) <= limit) continue
      const typically = setup.material.property('moisture-expansion')?.origin === 'typical' ? 'typically ' : ''
      report(
        humidity.place,
        `In ${formatQuantity(humidity.value)} this stock is ${typically}${changeText(growth, units)} than at ${formatSi(shrinks ? low : high, 'humidity', { digits: 3 })}, the ${shrinks ? 'driest' : 'dampest'} the shop keeps, and the tolerance is ${valueText(limit, 'relative', strainWords(units))}.`,
      )
    }
  },
  examples: [
    {
      name: 'a damp week',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000.9 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: $082 %RH$0}}
`,
        PAPER(),
      ),
      message:
        'In 82 %RH this stock is 0.88 mm/m longer than at 60 %RH, the dampest the shop keeps, and the tolerance is 0.5 mm/m.',
    },
    {
      name: 'heated winter air, typical growth',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: $018 %RH$0}}
`,
        '#- s.stock.yaml\nstock: s\nfamily: paper-coated\nthickness: 170 µm\n',
      ),
      message:
        'In 18 %RH this stock is typically 0.79 mm/m (0.59 to 0.99) shorter than at 40 %RH, the driest the shop keeps, and the tolerance is 0.5 mm/m.',
      testOnly: true,
    },
    {
      name: 'a little outside',
      text: onExample(
        `feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: 65 %RH}}
`,
        PAPER(),
      ),
    },
    {
      name: 'film does not mind',
      text: onExample(`feed:
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 999.1 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: 82 %RH}}
`),
      testOnly: true,
    },
  ],
})

function PAPER(): string {
  return '#- s.stock.yaml\nstock: s\nfamily: paper-coated\nthickness: 170 µm\nmoisture-expansion: 0.004 %/%RH\n'
}
