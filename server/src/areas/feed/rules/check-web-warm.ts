// A check was measured on a warm web: it was longer then than it will be, and is brought back by an expansion that is only roughly known.
import { mapRange } from '../../../calc/range.ts'
import { plainNumber, shown } from '../../../model/shown.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { feedOf } from '../facts.ts'

const STOCK = `#- s.stock.yaml
stock: s
family: film-pp
thickness: 180 µm
expansion: 100 ppm/K
`

/** K above the reference from which a web counts as warm. */
const WARM = 5

export const rule = defineRule({
  code: 'check-web-warm',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check was measured on a warm web.',
  docs: `Films are longer while they are warm. A check that gives the temperature of the web is brought to the temperature at which lengths are judged, but the whole web is not at one
temperature, and its expansion is known to a third at best where it is typical of a family. Told where the difference is more than the shop's length tolerance; measure again when the print is cool
and relaxed, off the machine (hot surfaces and moving parts: the machine's safety documents come first). Ignore it where a cool check of the same print stands beside it.`,
  check({ setup, report }) {
    const expansion = setup.material.property('expansion')
    const reference = setup.shop.referenceTemperature.value
    const tolerance = setup.shop.tolerance.length.value
    if (!expansion) return
    for (const { check } of feedOf(setup).counted) {
      if (!check.web) continue
      const above = check.web.value.si - reference
      const longer = mapRange(expansion.range, (a) => a * above)
      if (above <= WARM || longer.low <= tolerance) continue
      const { low, typical, high } = expansion.range
      const known =
        expansion.origin === 'typical'
          ? `the expansion typical of its family (${formatSi(typical, 'expansion', { unit: 'ppm/K', digits: 3 })}, ${plainNumber(low * 1e6, 3)} to ${plainNumber(high * 1e6, 3)})`
          : `the stock's expansion of ${formatSi(typical, 'expansion', { unit: 'ppm/K', digits: 3 })}`
      const millimetres =
        longer.low === longer.high
          ? plainNumber(typical * above * 1e3)
          : `${plainNumber(longer.low * 1e3)} to ${plainNumber(longer.high * 1e3)}`
      report(
        check.web.place,
        `The web was ${formatSi(above, 'temperature-difference', { unit: 'K', digits: 3 })} warmer than the ${shown(setup, reference, 'temperature')} at which lengths are judged, and ` +
          `${millimetres} mm per metre longer. It is brought back by ${known}; measure again when it is cool.`,
      )
    }
  },
  examples: [
    {
      name: 'straight off the dryer',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000.3 mm, applied: 0 %, web: $044 °C$0}
${STOCK}`,
      message:
        "The web was 21 K warmer than the 23 °C at which lengths are judged, and 2.1 mm per metre longer. It is brought back by the stock's expansion of 100 ppm/K; measure again when it is cool.",
    },
    {
      name: 'by an expansion that is typical',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000.3 mm, applied: 0 %, web: $0113 °F$0}
${STOCK.replace('expansion: 100 ppm/K\n', '')}`,
      message:
        'The web was 22 K warmer than the 23 °C at which lengths are judged, and 1.8 to 3.1 mm per metre longer. It is brought back by the expansion typical of its family (100 ppm/K, 81 to 143); measure again when it is cool.',
      testOnly: true,
    },
    {
      name: 'at room temperature',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %, web: 26 °C}
${STOCK}`,
    },
    {
      name: 'warm, but within the tolerance',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 998.2 mm, applied: 0 %, web: 35 °C}
${STOCK.replace('100 ppm/K', '17 ppm/K')}`,
      testOnly: true,
    },
    {
      name: 'five kelvin are no warm web',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000.3 mm, applied: 0 %, web: 28 °C}
#- s.stock.yaml
stock: s
family: film-pp
thickness: 180 µm
expansion: 300 ppm/K
`,
      testOnly: true,
    },
    {
      name: 'in tenths',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000.3 mm, applied: 0 %, web: $028.5556 °C$0}
#- s.stock.yaml
stock: s
family: film-pp
thickness: 180 µm
expansion: 123.45 ppm/K
`,
      message:
        "The web was 5.56 K warmer than the 23 °C at which lengths are judged, and 0.69 mm per metre longer. It is brought back by the stock's expansion of 123 ppm/K; measure again when it is cool.",
      testOnly: true,
    },
  ],
})
