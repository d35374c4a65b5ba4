// The shop asks for more than its own rules can prove, whatever is printed.
import { measuredLength } from '../../../calc/measurement.ts'
import { provableTolerance } from '../../../calc/provable.ts'
import type { F } from '../../../model/field.ts'
import type { Instrument, ShopDocument } from '../../../model/generated/documents.ts'
import { suspectOn, tooShort } from '../../../model/instrument-history.ts'
import type { Shelf } from '../../../model/shelf.ts'
import { resolveShop } from '../../../model/shop.ts'
import { formatSi } from '../../../quantities/format.ts'
import type { Quantity } from '../../../quantities/quantity.ts'
import { defineRule } from '../../../rules/rule.ts'
import { readsLengths } from '../../machine/instruments.ts'
import { ruleErrorOn, ruleFacts } from '../facts.ts'
import { perLength } from '../words.ts'

export const rule = defineRule({
  code: 'tolerance-beyond-rules',
  severity: 'hint',
  risk: 'length',
  kinds: ['shop'],
  summary: 'The length tolerance is smaller than the instruments of the shop can prove.',
  docs: `A rule may be off by its limit of error, the same way in everything that it measures: however many strips are printed and measured with it, that much is not known.
Reckoned with all instruments that are not in doubt, each at the longest pattern of the shop's printers that it reaches in one go, and for a feed that repeats perfectly;
a real one scatters, and needs a little more. Until then no feed is ever called proven here, and each profile asks for prints that cannot settle it. Get a better rule, give a printer
a longer pattern, or write down what customers are really promised.`,
  check({ document, shelf, today, report }) {
    const { content } = document
    const asked = content?.tolerance?.length
    if (!shelf.complete || !content || !asked) return
    const shop = resolveShop(content)
    const ways = waysOf(content, shelf, today)
    const proven = provableTolerance({ u: ways.map(({ u }) => u), risk: shop.tolerance.risk.value })
    if (!proven.ok || proven.value <= asked.value.si) return
    const best = ways.reduce((least, one) => (one.u < least.u ? one : least))
    const percent = formatSi(Math.ceil(proven.value * 1e5) / 1e5, 'relative', { unit: '%', digits: 2 })
    const together = `${best.name} over ${best.pattern}${ways.length > 1 ? ' and the others' : ''}`
    report(
      asked.place,
      `Allow ${perLength({ shop }, proven.value)} (${percent}) or more, or get a better rule or a longer pattern: however many prints are measured, ${together} cannot prove ${perLength({ shop }, asked.value.si)}.`,
    )
  },
  examples: [
    {
      name: 'one class II rule of a metre',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: $00.05 %$0}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: class-2}
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [500 mm, 1000 mm, 2000 mm]}
`,
      message:
        'Allow 0.57 mm per metre (0.057 %) or more, or get a better rule or a longer pattern: however many prints are measured, rule-1m over 1000 mm cannot prove 0.5 mm per metre.',
    },
    {
      name: 'a tenth of a per cent is within its reach',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: 0.1 %}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: class-2}
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [1000 mm]}
`,
    },
    {
      name: 'a class I rule is there too',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: 0.05 %}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: class-2}
  rule-2m: {kind: rule, division: 0.5 mm, length: 2 m, limit-of-error: class-1}
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [1000 mm, 2000 mm]}
`,
    },
    {
      name: 'the better one fell',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: $00.05 %$0}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: class-2}
  rule-2m: {kind: rule, division: 0.5 mm, length: 2 m, limit-of-error: class-1, suspect: [{from: 2026-03-01, why: fell}]}
  thermometer: {kind: thermometer, division: 0.1 K, limit-of-error: 1 K}
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [1000 mm, 2000 mm]}
`,
      message:
        'Allow 0.57 mm per metre (0.057 %) or more, or get a better rule or a longer pattern: however many prints are measured, rule-1m over 1000 mm cannot prove 0.5 mm per metre.',
      testOnly: true,
    },
    {
      name: 'two poor rules are better than one',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: $00.02 %$0, risk: 10 %}
instruments:
  a: {kind: rule, division: 0.5 mm, length: 1 m, limit-of-error: class-2}
  b: {kind: tape, division: 0.5 mm, length: 5 m, limit-of-error: class-2}
#- p.printer.yaml
printer: p
feed: {pattern-lengths: [1000 mm]}
`,
      message:
        'Allow 0.34 mm per metre (0.034 %) or more, or get a better rule or a longer pattern: however many prints are measured, a over 1000 mm and the others cannot prove 0.2 mm per metre.',
      testOnly: true,
    },
    {
      name: 'no printer tells of its patterns',
      text: `#- rollbook.yaml
shop: S
tolerance: {length: 0.01 %}
instruments:
  a: {kind: rule, division: 0.5 mm, limit-of-error: class-2}
`,
      testOnly: true,
    },
  ],
})

interface Way {
  readonly name: string
  /** Standard uncertainty of the instrument's own error, as a share of the length. */
  readonly u: number
  readonly pattern: string
}

/** Each instrument that reads lengths, at the pattern of which it says most. */
function waysOf({ instruments }: ShopDocument, shelf: Shelf, today: string): readonly Way[] {
  const patterns = patternsOf(shelf)
  return [...(instruments?.entries ?? [])].flatMap(([name, instrument]) => {
    if (!readsLengths(instrument) || suspectOn(instrument, today)) return []
    const ways = patterns.flatMap(({ value }): Way[] => {
      const u = tooShort(instrument, value.si) ? undefined : errorOf(instrument, value.si, today)
      return u === undefined ? [] : [{ name, u, pattern: `${value.written} ${value.unit.id}` }]
    })
    return ways.length > 0 ? [ways.reduce((least, one) => (one.u < least.u ? one : least))] : []
  })
}

const patternsOf = (shelf: Shelf): readonly F<Quantity>[] =>
  [...shelf.all('printer')].flatMap(({ values }) => {
    const printer = values.printer && shelf.document('printer', values.printer.text)
    return printer?.content?.feed?.['pattern-lengths']?.items ?? []
  })

function errorOf(instrument: Instrument, length: number, today: string): number | undefined {
  const measurement = { measured: length, ...ruleFacts(instrument), ruleError: ruleErrorOn(instrument, today) }
  const read = measuredLength({ measurement, referenceTemperature: 20 })
  if (!read.ok) return undefined
  const own = read.value.parts.filter(({ cause }) => cause === 'limit-of-error' || cause === 'rule-error')
  return Math.hypot(...own.map(({ u }) => u / length))
}
