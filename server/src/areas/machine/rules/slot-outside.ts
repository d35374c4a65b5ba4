// A memory place the printer does not have.
import { defineRule } from '../../../rules/rule.ts'
import { MACHINE } from '../examples.ts'
import { moveToFreeSlot } from '../slots.ts'

export const rule = defineRule({
  code: 'slot-outside',
  severity: 'error',
  kinds: ['media'],
  summary: 'The printer has fewer memory places than the slot named.',
  docs: `The printer's document says how many memory places the machine has, counted from 1. A profile in a place that does not exist cannot be loaded from it. Either
the number was mistyped, or \`slots\` in the printer's document is out of date.`,
  check({ document, setup, shelf, report }) {
    const { slot } = setup.own
    const slots = setup.printer?.slots
    if (!slot || !slots || slot.value <= slots.value) return
    report(slot.place, `The printer has ${slots.value} slots, counted from 1; there is no slot ${slot.value}.`, {
      related: [
        {
          file: slots.place.file,
          span: slots.place.node,
          message: 'How many it has.',
        },
      ],
      fixes: () => [moveToFreeSlot(document, setup, shelf)],
    })
  },
  examples: [
    {
      name: 'one too many',
      text: `#- e.media.yaml
profile: e
printer: p
slot: $031$0
${MACHINE}`,
      message: 'The printer has 30 slots, counted from 1; there is no slot 31.',
      after: `profile: e
printer: p
slot: 1
`,
      fixes: ['Move to slot 1, which no profile uses; key the settings in there'],
      related: ['How many it has. 30'],
    },
    {
      name: 'the last one',
      text: `#- e.media.yaml
profile: e
printer: p
slot: 30
${MACHINE}`,
    },
  ],
})
