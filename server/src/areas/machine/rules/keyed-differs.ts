// The machine holds another value than the file.

import { keyedOf, type ReadBack, takeOverRefused } from '../../../areas/machine/read-back.ts'
import type { RollDocument } from '../../../model/document.ts'
import { writtenText } from '../../../model/setting.ts'
import type { Setup } from '../../../model/setup.ts'
import { defineRule, type Fix } from '../../../rules/rule.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { feedOf } from '../../feed/facts.ts'
import { correctionText } from '../../feed/words.ts'
import { relatedTo } from '../../landing/shared.ts'
import { MACHINE } from '../examples.ts'

export const rule = defineRule({
  code: 'keyed-differs',
  severity: 'warning',
  kinds: ['media'],
  summary: 'What was read back from the machine differs from the file.',
  docs: `A value changed at the panel, after a power cut or by somebody in a hurry, prints until it is noticed. Find out which of the two the last good print was made with,
then either take the machine's value over, or key the file's value in, read the machine back again and add that as a new entry. What counts is the newest read-back that
names the setting; those before it are history. Values are compared by what they mean, in any unit; levels of
suction and tension through the printer's document, a measured length through the correction it makes. A temperature above what the stock stands is never taken over: hot
surfaces and vapour are the machine's and the ink's safety documents' matter first.`,
  check({ document, setup, report }) {
    for (const found of keyedOf(setup)) {
      if (found.same !== false || found.since) continue
      const file = found.setting ? `the file says ${writtenText(found.setting)}` : `the file leaves it at what is usual`
      const read = found.date ? ` (read back on ${found.date.value})` : ''
      report(
        found.keyed.place,
        `Settle which is right for ${found.path.join('.')}: the machine has ${machineText(setup, found)}${read}, and ${file}.`,
        {
          ...relatedTo(found.setting?.place, 'What the file says.'),
          fixes: () => [takeOver(document, setup, found), keyIn(setup, found)],
        },
      )
    }
  },
  examples: [
    {
      name: 'half a correction behind',
      text: `#- e.media.yaml
profile: e
printer: p
feed:
  correction: +0.25 %
keyed:
  - date: 2026-03-23
    correction: $0+0.20 %$0
${MACHINE}`,
      message:
        'Settle which is right for feed.correction: the machine has +0.20 % (read back on 2026-03-23), and the file says +0.25 %.',
      after: `profile: e
printer: p
feed:
  correction: +0.20 %
keyed:
  - date: 2026-03-23
    correction: +0.20 %
`,
      fixes: [
        "Take the machine's +0.20 % over into the file",
        'Key +0.25 % in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. +0.25 %'],
    },
    {
      name: 'each setting by the newest read-back that names it',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
feed: {correction: +0.25 %}
heat: {platen: 40 °C}
keyed:
  - {date: 2026-03-10, gap: 1.5 mm, correction: +0.20 %, platen: $044 °C$0}
  - {date: 2026-03-23, gap: 2 mm, correction: +0.25 %}
${MACHINE}`,
      message: 'Settle which is right for heat.platen: the machine has 44 °C (read back on 2026-03-10), and the file says 40 °C.',
      after: `profile: e
printer: p
gap: 2 mm
feed: {correction: +0.25 %}
heat: {platen: 44 °C}
keyed:
  - {date: 2026-03-10, gap: 1.5 mm, correction: +0.20 %, platen: 44 °C}
  - {date: 2026-03-23, gap: 2 mm, correction: +0.25 %}
`,
      fixes: [
        "Take the machine's 44 °C over into the file",
        'Key 40 °C in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 40 °C'],
    },
    {
      name: 'the later entry of one day',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
keyed: [{date: 2026-03-23, gap: 2 mm}, {date: 2026-03-23, gap: $01.5 mm$0}]
${MACHINE}`,
      message: 'Settle which is right for gap: the machine has 1.5 mm (read back on 2026-03-23), and the file says 2 mm.',
      after: `profile: e
printer: p
gap: 1.5 mm
keyed: [{date: 2026-03-23, gap: 2 mm}, {date: 2026-03-23, gap: 1.5 mm}]
`,
      fixes: [
        "Take the machine's 1.5 mm over into the file",
        'Key 2 mm in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 2 mm'],
      testOnly: true,
    },
    {
      name: 'one without a date may be the newest',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
keyed: [{gap: $01.5 mm$0}, {date: 2026-03-23, gap: 2 mm}]
${MACHINE}`,
      message: 'Settle which is right for gap: the machine has 1.5 mm, and the file says 2 mm.',
      after: `profile: e
printer: p
gap: 1.5 mm
keyed: [{gap: 1.5 mm}, {date: 2026-03-23, gap: 2 mm}]
`,
      fixes: [
        "Take the machine's 1.5 mm over into the file",
        'Key 2 mm in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 2 mm'],
      testOnly: true,
    },
    {
      name: 'an older one below a newer one that cannot be read, and one of tomorrow',
      text: `#- e.media.yaml
profile: e
printer: p
gap: 2 mm
heat: {platen: 40 °C}
keyed: [{date: 2026-03-10, gap: 1.5 mm}, {date: 2026-03-23, gap: 2 litres}, {date: 2026-04-01, platen: 44 °C}]
${MACHINE}`,
      testOnly: true,
    },
    {
      name: 'a turn that the file leaves out',
      text: `#- e.media.yaml
profile: e
printer: p
keyed: [{date: 2026-03-23, turn-at: $0bed-end$0}]
${MACHINE}`,
      message:
        'Settle which is right for carriage.turn-at: the machine has bed-end (read back on 2026-03-23), and the file leaves it at what is usual.',
      after: `profile: e
printer: p
keyed: [{date: 2026-03-23, turn-at: bed-end}]
carriage: { turn-at: bed-end }
`,
      fixes: ["Take the machine's bed-end over into the file"],
      testOnly: true,
    },
    {
      name: 'a level and the pressure it stands for, a length and the correction it makes, other units',
      text: `#- e.media.yaml
profile: e
printer: q
gap: 2.54 mm
feed: {correction: +0.21 %}
heat: {platen: 40 °C}
suction: 200 Pa
web: {tension: 15 N/m}
keyed: [{date: 2026-03-23, gap: 0.1 in, correction: 997.9 mm, platen: 104 °F, suction: 2, tension: 1}]
#- q.printer.yaml
printer: q
feed: {range: [-2 %, 2 %], step: 0.1 mm, entry: measured-length, pattern-lengths: [1 m]}
suction: {levels: {1: 100 Pa, 2: 200 Pa}}
web: {tension-levels: {1: 15 N/m}}
`,
    },
    {
      name: 'another length than the correction makes',
      text: `#- e.media.yaml
profile: e
printer: q
feed: {correction: +0.21 %}
keyed: [{date: 2026-03-23, correction: $0998.2 mm$0}]
#- q.printer.yaml
printer: q
feed: {range: [-2 %, 2 %], step: 0.1 mm, entry: measured-length, pattern-lengths: [1 m]}
`,
      message:
        'Settle which is right for feed.correction: the machine has 998.2 mm (+0.180 % by itself) (read back on 2026-03-23), and the file says +0.21 %.',
      after: `profile: e
printer: q
feed: {correction: +0.180 %}
keyed: [{date: 2026-03-23, correction: 998.2 mm}]
`,
      fixes: [
        "Take the machine's +0.180 % over into the file",
        'Key +0.21 % in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. +0.21 %'],
      testOnly: true,
    },
    {
      name: 'hotter than the stock bears',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
heat: {platen: 40 °C}
keyed: [{date: 2026-03-23, platen: $060 °C$0}]
#- s.stock.yaml
stock: s
max-web-temperature: 50 °C
#- p.printer.yaml
printer: p
panel: [{key: heat.platen, where: the middle dial}, {key: gap, where: lever behind the cover}]
`,
      message: 'Settle which is right for heat.platen: the machine has 60 °C (read back on 2026-03-23), and the file says 40 °C.',
      fixes: [
        "Take the machine's 60 °C over into the file [refused: The stock stands 50 °C: lower the heat at the machine instead.]",
        'Key 40 °C in at the machine [refused: At the machine: the middle dial. Then read it back and add what it has here.]',
      ],
      related: ['What the file says. 40 °C'],
      testOnly: true,
    },
    {
      name: 'hotter than a stock of its family bears',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
heat: {platen: 40 °C}
keyed: [{date: 2026-03-23, platen: $080 °C$0}]
#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 80 µm
#- p.printer.yaml
printer: p
`,
      message: 'Settle which is right for heat.platen: the machine has 80 °C (read back on 2026-03-23), and the file says 40 °C.',
      fixes: [
        "Take the machine's 80 °C over into the file [refused: The stock stands 45 °C (typical): lower the heat at the machine instead.]",
        'Key 40 °C in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 40 °C'],
      testOnly: true,
    },
    {
      name: 'as hot as the stock bears',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
heat: {platen: 40 °C}
keyed: [{date: 2026-03-23, platen: $050 °C$0}]
#- s.stock.yaml
stock: s
max-web-temperature: 50 °C
#- p.printer.yaml
printer: p
`,
      message: 'Settle which is right for heat.platen: the machine has 50 °C (read back on 2026-03-23), and the file says 40 °C.',
      after: `profile: e
stock: s
printer: p
heat: {platen: 50 °C}
keyed: [{date: 2026-03-23, platen: 50 °C}]
`,
      fixes: [
        "Take the machine's 50 °C over into the file",
        'Key 40 °C in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 40 °C'],
      testOnly: true,
    },
    {
      name: 'another slot',
      text: `#- e.media.yaml
profile: e
printer: p
slot: 3
keyed: [{date: 2026-03-23, slot: $04$0}]
#- p.printer.yaml
printer: p
`,
      message: 'Settle which is right for slot: the machine has 4 (read back on 2026-03-23), and the file says 3.',
      fixes: [
        "Take the machine's 4 over into the file [refused: Another profile may use that place: move the settings at the machine, or change the slot by hand.]",
        'Key 3 in at the machine [refused: At the machine, then read it back and add what it has here.]',
      ],
      related: ['What the file says. 3'],
      testOnly: true,
    },
  ],
})

function machineText(setup: Setup, { keyed, correction }: ReadBack): string {
  const text = writtenText(keyed)
  return correction === undefined ? text : `${text} (${correctionText(feedOf(setup), correction)} by itself)`
}

function takeOver(document: RollDocument, setup: Setup, found: ReadBack): Fix | undefined {
  const text = found.correction === undefined ? writtenText(found.keyed) : correctionText(feedOf(setup), found.correction)
  const title = `Take the machine's ${text} over into the file`
  const refused = takeOverRefused(setup, found)
  if (refused !== undefined) return { title, edits: [], refused }
  return writeSetting(document, found.path, text, title)
}

/** Cannot be done from here: the title says what to do, the reason where it is done. */
function keyIn(setup: Setup, found: ReadBack): Fix | undefined {
  if (!found.setting) return undefined
  const where = setup.printer?.panel?.items.find((entry) => entry.key?.value === found.path.join('.'))?.where?.value
  const title = `Key ${writtenText(found.setting)} in at the machine`
  return {
    title,
    edits: [],
    refused: `${where ? `At the machine: ${where}. Then` : 'At the machine, then'} read it back and add what it has here.`,
  }
}
