// The newest colour measurement was made with other ink, in another mode, at another heat or on another lot than today's.
import { defineRule } from '../../../rules/rule.ts'
import { colourDoubt } from '../evidence.ts'
import { NEAR, TARGET } from '../examples.ts'
import { colourOf } from '../facts.ts'
import { fileText } from '../words.ts'

export const rule = defineRule({
  code: 'colour-doubtful',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'The newest colour measurement proves nothing of the colours of today.',
  docs: `Colours rest on the ink, on how many passes lay it down, on the heat it dries at and on the lot of the stock. After a change of one of these the old measurement says how far the colours
were off then. Print the chart and measure it again; keep the old line, it shows the drift. Told of the newest measurement alone.`,
  check({ setup, report }) {
    const { newest } = colourOf(setup)
    if (!newest) return
    const doubt = colourDoubt(setup, newest.file)
    // What is not known of its state, and that it is of another pairing, is told by the rules of states.
    if (doubt?.kind !== 'changed') return
    report(newest.file.field.place, `${fileText(newest.file)} was ${doubt.reason}: print the chart and measure it again.`)
  },
  examples: [
    {
      name: 'another ink since',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
colour:
  reference: target.txt
  measured:
    - {file: $0strip.txt$0, date: 2026-03-20, under: as-now}
conditions:
  as-now: {from: profile, stock: s, printer: p, mode: m}
#- p.printer.yaml
printer: p
modes: {m: {passes: 4}}
events: [{date: 2026-03-24, what: ink-changed}]
${TARGET}${NEAR}`,
      message: "'strip.txt' was made before another ink was filled in on 2026-03-24: print the chart and measure it again.",
    },
    {
      name: 'dried hotter',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
heat: {after: 48 °C}
colour:
  reference: target.txt
  measured:
    - {file: $0strip.txt$0, date: 2026-03-20, under: before}
conditions:
  before: {from: profile, stock: s, printer: p, mode: m, heat.after: 44 °C}
#- p.printer.yaml
printer: p
modes: {m: {passes: 4}}
heaters: {after: {length: 450 mm}}
${TARGET}${NEAR}`,
      message: "'strip.txt' was made with heat.after 44 °C, and it is 48 °C: print the chart and measure it again.",
    },
    {
      name: 'another lot is open',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
colour:
  measured:
    - {file: $0strip.txt$0, date: 2026-03-20, under: as-now, lot: A-1}
conditions:
  as-now: {from: profile, stock: s, printer: p, mode: m}
#- s.stock.yaml
stock: s
lots:
  - {lot: A-1, opened: 2026-01-05, finished: 2026-03-22}
  - {lot: A-2, opened: 2026-03-22}
${NEAR}`,
      message: "'strip.txt' was made on lot A-1, and lot A-2 is open: print the chart and measure it again.",
      testOnly: true,
    },
    {
      name: 'the newest counts, wherever it stands',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
colour:
  measured:
    - {file: $0strip.txt$0, date: 2026-03-20, under: before}
    - {file: target.txt, date: 2026-02-20, under: as-now}
conditions:
  as-now: {from: profile, stock: s, printer: p, mode: m}
  before: {from: profile, stock: s, printer: p, mode: fine}
#- p.printer.yaml
printer: p
modes: {m: {passes: 4}, fine: {passes: 8}}
${TARGET}${NEAR}`,
      message: "'strip.txt' was made in fine, and the mode is m: print the chart and measure it again.",
      testOnly: true,
    },
    {
      name: 'with what is set today',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: m
suction: 2
colour:
  reference: target.txt
  measured:
    - {file: strip.txt, date: 2026-03-20, under: before}
conditions:
  before: {from: profile, stock: s, printer: p, mode: m, suction: 3}
${TARGET}${NEAR}`,
    },
  ],
})
