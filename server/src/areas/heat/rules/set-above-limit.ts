// A heater is set above what the stock bears, though the web is reckoned to stay below it.

import { webText } from '../../../model/heat-words.ts'
import type { Setup } from '../../../model/setup.ts'
import { defineRule } from '../../../rules/rule.ts'
import { heatOf } from '../facts.ts'
import { HEATER, type Zone } from '../path.ts'
import {
  EXAMPLE_FILM,
  EXAMPLE_PRINTER,
  heatToldByBase,
  isTold,
  onExample,
  setText,
  settledAbove,
  settledNear,
} from '../shared.ts'
import { limitText } from '../words.ts'

export const rule = defineRule({
  code: 'set-above-limit',
  severity: 'hint',
  risk: 'harm',
  kinds: ['media'],
  summary: 'A heater is set above what the stock bears, and the web stays below by its losses alone.',
  docs: `A web over a heater is cooler than the heater, because its open face loses heat to the air. That is all that keeps this web within its limit: where it lies closer, where a
cover keeps the air off it, or in a hotter room it gets nearer to the setting. It is common to set dryers above the limit on purpose; then read the web there and keep the reading in
the profile. Ignore it where readings show a margin you trust. Caution: hot surfaces; the safety documents of the machine and the material come first.`,
  check({ setup, report }) {
    const facts = heatOf(setup)
    const { zones, margins, limit } = facts
    if (!limit) return
    const told = new Set([...settledAbove(setup, facts), ...settledNear(setup, facts)].map(({ zone }) => zone))
    for (const zone of zones) {
      if (!zone.set || !zone.heater || told.has(zone) || zone.set.value.si <= limit.range.high) continue
      const margin = margins.get(zone.zone)
      if (margin && isTold(limit, margin)) continue
      if (zone.coupling.origin === 'readings' && margin?.verdict === 'within') continue
      if (heatToldByBase(setup, zone)) continue
      report(
        zone.set.place,
        `The ${HEATER[zone.zone]} is set to ${setText(zone)}, and ${limitText(limit, setup.shop.units)}; ${webWords(setup, zone)}.`,
      )
    }
  },
  examples: [
    {
      name: 'kept cool by its losses',
      text: onExample('heat: {after: $052 °C$0}\n'),
      message:
        'The heater behind the platen is set to 52 °C, and the stock bears 50 °C; the web is reckoned to stay at 47 °C (45 to 49) with typical losses to the air, so read it there.',
    },
    {
      name: 'nothing to reckon with',
      text: onExample(
        'heat: {after: $052 °C$0}\n',
        undefined,
        '#- p.printer.yaml\nprinter: p\nheaters: {after: {length: 450 mm}}\n',
      ),
      message:
        'The heater behind the platen is set to 52 °C, and the stock bears 50 °C; how warm the web gets cannot be told, because the printer does not give the width of its bed.',
      testOnly: true,
    },
    {
      name: 'readings show the margin',
      text: onExample('heat: {after: 52 °C, readings: [{date: 2026-03-01, zone: after, set: 52 °C, web: 46 °C}]}\n'),
    },
    {
      name: 'no limit is known',
      text: onExample('heat: {after: 90 °C}\n', EXAMPLE_FILM.replace(/family.*\n/, '').replace(/max-web.*\n/, '')),
      testOnly: true,
    },
    {
      name: 'more likely than not above it, which web-near-limit tells',
      text: onExample(`heat: {after: 58 °C}
`),
      testOnly: true,
    },
    {
      name: 'the limit of the family, and probably above that',
      text: onExample('heat: {after: $065 °C$0}\n', EXAMPLE_FILM.replace(/max-web.*\n/, '')),
      message:
        'The heater behind the platen is set to 65 °C, and stock of this family typically bears 50 °C (45 to 57); the web is reckoned to stay at 58 °C (55 to 60) with typical losses to the air, so read it there.',
      testOnly: true,
    },
    {
      name: 'above all that is typical, which web-near-limit tells',
      text: onExample(
        `heat: {after: 80 °C}
`,
        EXAMPLE_FILM.replace('max-web-temperature: 50 °C\n', ''),
      ),
      testOnly: true,
    },
    {
      name: 'a web that stays gets too hot, which web-too-hot tells',
      text: onExample(
        `heat: {after: 90 °C}
`,
        EXAMPLE_FILM,
        EXAMPLE_PRINTER.replace('bed-width: 1600 mm, ', ''),
      ),
      testOnly: true,
    },
    {
      name: 'a web that stays probably gets too hot, which web-near-limit tells',
      text: onExample(
        `heat: {after: 58 °C}
`,
        EXAMPLE_FILM,
        EXAMPLE_PRINTER.replace('bed-width: 1600 mm, ', ''),
      ),
      testOnly: true,
    },
    {
      name: 'what the stock bears',
      text: onExample(`heat: {after: 50 °C}
`),
      testOnly: true,
    },
    {
      name: 'readings leave no margin',
      text: onExample('heat: {after: $052 °C$0, readings: [{date: 2026-03-01, zone: after, set: 52 °C, web: 49.8 °C}]}\n'),
      message:
        'The heater behind the platen is set to 52 °C, and the stock bears 50 °C; the web is reckoned to stay at 50 °C (48 to 51) with typical losses to the air, so read it there.',
      testOnly: true,
    },
  ],
})

function webWords({ shop }: Setup, { web }: Zone): string {
  return web.ok
    ? `the web is reckoned to stay at ${webText(web.value.leave, shop.units)} with typical losses to the air, so read it there`
    : `how warm the web gets cannot be told, because ${web.problem.reason}`
}
