// A check was made in a room outside the climate the shop keeps.
import { mapRange, type Range } from '../../../calc/range.ts'
import type { Check } from '../../../model/generated/documents.ts'
import type { Setup } from '../../../model/setup.ts'
import { plainNumber, shown } from '../../../model/shown.ts'
import type { Quantity } from '../../../quantities/quantity.ts'
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { feedOf } from '../../feed/facts.ts'
import { climateOf } from '../facts.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
climate: {temperature: [18 °C, 26 °C], humidity: [40 %RH, 60 %RH]}
`
const PAPER = `#- s.stock.yaml
stock: s
family: paper-coated
thickness: 170 µm
moisture-expansion: 0.004 %/%RH
`

export const rule = defineRule({
  code: 'check-climate',
  severity: 'hint',
  risk: 'length',
  kinds: ['media'],
  summary: 'A check was made outside the climate the shop keeps.',
  docs: `Paper and canvas grow with the humidity they take up, the rule and the web with temperature. The rule and, where its own temperature is not given, the print are reckoned with at the room's temperature;
humidity is not, since nobody knows how much of it the stock has taken up. Repeat the check when the room is itself again, and let the stock stand in it for a day. Ignore it for films, which take
up next to no moisture, and where the room is always like this: then mend \`climate\` in the shop's document.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { climate } = setup.shop
    for (const { check } of feedOf(setup).counted) {
      const { temperature, humidity } = check.climate ?? {}
      if (temperature && beyond(temperature.value, climate.temperature.value) !== 0) {
        const [low, high] = climate.temperature.value.map((t) => shown(setup, t, 'temperature'))
        report(
          temperature.place,
          `The room was ${shown(setup, temperature.value.si, 'temperature')} for this check, and the shop keeps ${low} to ${high}.`,
        )
      }
      const off = humidity ? beyond(humidity.value, climate.humidity.value) : 0
      // Where paper grows out of tolerance by it, humidity-paper-growth says so with more.
      if (humidity && off !== 0 && !growsOut(setup, check)) {
        const [low, high] = climate.humidity.value.map((h) => shown(setup, h, 'humidity'))
        report(
          humidity.place,
          `The room had ${shown(setup, humidity.value.si, 'humidity')} for this check, and the shop keeps ${low} to ${high}.${growth(setup, off)}`,
        )
      }
    }
  },
  examples: [
    {
      name: 'a damp day, on paper',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {temperature: 22 °C, humidity: $071 %RH$0}}
${SHOP}${PAPER}`,
      message:
        'The room had 71 %RH for this check, and the shop keeps 40 %RH to 60 %RH. 11 %RH more make this stock up to 0.44 mm per metre longer.',
    },
    {
      name: 'a cold morning',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {temperature: $012 °C$0}}
${SHOP}`,
      message: 'The room was 12 °C for this check, and the shop keeps 18 °C to 26 °C.',
      testOnly: true,
    },
    {
      name: 'a usual day',
      text: `#- e.media.yaml
profile: e
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {temperature: 64.4 °F, humidity: 60 %RH}}
${SHOP}`,
    },
    {
      name: 'a dry day, on paper',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {humidity: $030 %RH$0}}
${SHOP}${PAPER}`,
      message:
        'The room had 30 %RH for this check, and the shop keeps 40 %RH to 60 %RH. 10 %RH less make this stock up to 0.4 mm per metre shorter.',
      testOnly: true,
    },
    {
      name: 'so dry that humidity-paper-growth tells it',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {humidity: 5 %RH}}
${SHOP}${PAPER}`,
      testOnly: true,
    },
    {
      name: 'a dry day, on paper like most',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {humidity: $036 %RH$0}}
${SHOP}#- s.stock.yaml
stock: s
family: paper-coated
thickness: 170 µm
`,
      message:
        'The room had 36 %RH for this check, and the shop keeps 40 %RH to 60 %RH. 4 %RH less make this stock up to 0.18 mm per metre shorter (typical of its family).',
      testOnly: true,
    },
    {
      name: 'a damp day, on a stock that takes up nothing',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {humidity: $071 %RH$0}}
${SHOP}#- s.stock.yaml
stock: s
family: paper-coated
thickness: 170 µm
moisture-expansion: 0 %/%RH
`,
      message: 'The room had 71 %RH for this check, and the shop keeps 40 %RH to 60 %RH.',
      testOnly: true,
    },
    {
      name: 'a temperature alone',
      text: `#- e.media.yaml
profile: e
stock: s
feed:
  checks:
    - {date: 2026-03-24, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, climate: {temperature: 20 °C}}
${SHOP}${PAPER}`,
      testOnly: true,
    },
  ],
})

/** How far outside a window, with its sign; 0 inside, and for what conversion from another unit leaves. */
function beyond({ si, dimension }: Quantity, window: readonly [number, number]): number {
  const end = endPassed(si, window, dimension)
  return end === undefined ? 0 : si - window[end]
}

/** What the humidity beyond the window does to the stock, where it takes up any. */
function growsOut(setup: Setup, check: Check): boolean {
  const grown = climateOf(setup).checks.find((c) => c.evidence.check === check)?.growth
  return grown !== undefined && Math.min(Math.abs(grown.low), Math.abs(grown.high)) > setup.shop.tolerance.length.value
}

function growth(setup: Setup, off: number): string {
  const property = setup.material.property('moisture-expansion')
  if (!property || property.range.high <= 0) return ''
  const grown = mapRange(property.range, (m) => Math.abs(m * off) * 1e3)
  const typical = property.origin === 'typical' ? ' (typical of its family)' : ''
  return ` ${shown(setup, Math.abs(off), 'humidity')} ${off > 0 ? 'more' : 'less'} make this stock up to ${most(grown)} mm per metre ${off > 0 ? 'longer' : 'shorter'}${typical}.`
}

const most = (r: Range): string => plainNumber(r.high)
