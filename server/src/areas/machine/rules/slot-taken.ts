// Two profiles of one printer claim the same memory place.
import { isOutOfUse } from '../../../model/facts.ts'
import { retiredOf } from '../../../model/retired.ts'
import { defineRule } from '../../../rules/rule.ts'
import { listed } from '../../../rules/support/words.ts'
import { MACHINE } from '../examples.ts'
import { moveToFreeSlot } from '../slots.ts'

/** How many of the others are named: a shop that gives every profile slot 1 needs no list of a thousand. */
const NAMED = 4

export const rule = defineRule({
  code: 'slot-taken',
  severity: 'error',
  kinds: ['media'],
  summary: 'Another profile of this printer uses the same memory place.',
  docs: `The machine keeps one set of settings in each memory place: whoever keys in one of the two profiles overwrites the other, and the next job on the other
stock runs with the wrong heat, gap and feed. Move one of them, in the file and in the machine.`,
  check(context) {
    const { document, setup, shelf, report } = context
    const { slot } = setup.own
    const printer = setup.profile.printer?.value
    // What is out of use is kept in no machine: its place is free.
    if (!slot || printer === undefined || retiredOf(setup)) return
    const others = shelf
      .withSlot(printer, String(slot.value))
      .filter((f) => f.file !== document.file && (f.values.retired === undefined || !isOutOfUse(f, context.today)))
    if (others.length === 0) return
    const named = others.slice(0, NAMED).map((f) => f.values.profile?.text ?? 'a profile without a name')
    const more = others.length - named.length
    const names = more > 0 ? [...named, `${more} more`] : named
    report(slot.place, `Slot ${slot.value} of ${printer} is taken by ${listed(names)} too.`, {
      related: others.slice(0, NAMED).map(({ file, values }) => ({ file, span: values.slot!, message: 'The same slot.' })),
      fixes: () => [moveToFreeSlot(document, setup, shelf)],
    })
  },
  examples: [
    {
      name: 'twice the same',
      text: `#- e.media.yaml
profile: e
printer: p
slot: $04$0
#- f.media.yaml
profile: f
printer: p
slot: 4
#- g.media.yaml
profile: g
printer: p
slot: 5
${MACHINE}`,
      message: 'Slot 4 of p is taken by f too.',
      after: `profile: e
printer: p
slot: 6
`,
      fixes: ['Move to slot 6, which no profile uses; key the settings in there'],
      related: ['The same slot. 4'],
    },
    {
      name: 'by one that is retired',
      text: `#- e.media.yaml
profile: e
printer: p
slot: 4
#- f.media.yaml
profile: f
printer: p
slot: 4
retired: 2026-03-01
${MACHINE}`,
    },
    {
      name: 'on two printers',
      text: `#- e.media.yaml
profile: e
printer: p
slot: 4
#- f.media.yaml
profile: f
printer: q
slot: 4
${MACHINE}`,
    },
    {
      name: 'by five',
      text: `#- e.media.yaml
profile: e
printer: p
slot: $04$0
#- f0.media.yaml
profile: f0
printer: p
slot: 4
#- f1.media.yaml
profile: f1
printer: p
slot: 4
#- f2.media.yaml
profile: f2
printer: p
slot: 4
#- f3.media.yaml
profile: f3
printer: p
slot: 4
#- f4.media.yaml
profile: f4
printer: p
slot: 4
${MACHINE}`,
      message: 'Slot 4 of p is taken by f0, f1, f2, f3 and 1 more too.',
      after: `profile: e
printer: p
slot: 5
`,
      fixes: ['Move to slot 5, which no profile uses; key the settings in there'],
      related: ['The same slot. 4', 'The same slot. 4', 'The same slot. 4', 'The same slot. 4'],
      testOnly: true,
    },
    {
      name: 'by six',
      text: `#- e.media.yaml
profile: e
printer: p
slot: $04$0
#- f0.media.yaml
profile: f0
printer: p
slot: 4
#- f1.media.yaml
profile: f1
printer: p
slot: 4
#- f2.media.yaml
profile: f2
printer: p
slot: 4
#- f3.media.yaml
profile: f3
printer: p
slot: 4
#- f4.media.yaml
profile: f4
printer: p
slot: 4
#- f5.media.yaml
profile: f5
printer: p
slot: 4
${MACHINE}`,
      message: 'Slot 4 of p is taken by f0, f1, f2, f3 and 2 more too.',
      after: `profile: e
printer: p
slot: 5
`,
      fixes: ['Move to slot 5, which no profile uses; key the settings in there'],
      related: ['The same slot. 4', 'The same slot. 4', 'The same slot. 4', 'The same slot. 4'],
      testOnly: true,
    },
  ],
})
