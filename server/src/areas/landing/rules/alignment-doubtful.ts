// The alignment cannot be brought to the machine of today: it was worked on, or all that has changed together may be too much.
import { defineRule } from '../../../rules/rule.ts'
import { READ_PATTERN } from '../../../rules/support/cautions.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { type AlignmentEvidence, alignmentEvidence } from '../evidence.ts'

/** What no other rule tells: a single change that is too much, another mode and age have their own, and states that say too little or another pairing too. */
const TOLD: ReadonlySet<AlignmentEvidence['by']> = new Set(['event', 'moved'])

export const rule = defineRule({
  code: 'alignment-doubtful',
  severity: 'warning',
  risk: 'look',
  kinds: ['media'],
  summary: 'The alignment proves nothing of the machine as it is now.',
  docs: `Picks belong to the heads as they hung. After a head was changed or the machine levelled (\`events\` of the printer) nobody can say where the dots land now. The same
holds where several small changes may add up to more than the tolerance. Print the alignment pattern, and write down the state it was printed in.
${READ_PATTERN}`,
  check({ setup, report }) {
    const { alignment } = setup.own
    const { by, reason, print } = alignmentEvidence(setup)
    const at = by === 'event' ? alignment?.date : alignment?.under
    if (at && print && TOLD.has(by)) report(at.place, `${print.slice(0, -1)}: the last one ${reason}.`)
  },
  examples: [
    {
      name: 'a head was changed since',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: $02026-03-20$0, under: before, two-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}events:
  - {date: 2026-03-25, what: head-changed}
${FILM}`,
      message: 'Print the alignment pattern in standard: the last one was made before a head was changed on 2026-03-25.',
    },
    {
      name: 'two changes that only together are too much',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.6 mm
alignment: {date: 2026-03-20, under: $0before$0, thickness: 250 µm, two-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      message:
        'Print the alignment pattern in standard: the last one may be out by 50 µm with what has changed since, and the tolerance is 30 µm.',
    },
    {
      name: 'cleaning does not move a head',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-20, under: before, two-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}events:
  - {date: 2026-03-25, what: head-cleaned}
${FILM}`,
    },
    {
      name: 'what is told at the state: another machine',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 1.5 mm
alignment: {date: 2026-03-20, under: before, two-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}}
conditions:
  before: {from: profile, stock: s, printer: q, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      testOnly: true,
    },
    {
      name: 'what is told otherwise: too much by one change alone',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
gap: 2.0 mm
alignment: {date: 2026-03-20, under: before, two-way: {cyan: 1, magenta: 1, yellow: 1, black: 1}}
conditions:
  before: {from: profile, stock: s, printer: p, mode: standard, gap: 1.5 mm}
${MACHINE}${FILM}`,
      testOnly: true,
    },
  ],
})
