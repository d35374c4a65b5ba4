// A value that is possible but unlikely: most often a point or a unit slipped, and the print shows it only when it is too late.
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { beyond } from './support/bounds.ts'
import { writeValue } from './support/fixes.ts'

export const rule = defineRule({
  code: 'implausible',
  severity: 'warning',
  kinds: ALL_KINDS,
  summary: 'A value is possible, but unlikely.',
  docs: `The value is outside what shops usually have, and counts as it stands. Most often a decimal point slipped or a unit is wrong; the usual
values that such a slip would turn into this one are offered, and none is sure. A shop that runs odd things on purpose sets this rule to
\`hint\` under \`rules\` in rollbook.yaml.`,
  check(context) {
    for (const { bad, name, text, usual, slips } of beyond(context, 'implausible')) {
      const [low, high] = usual ?? ['', '']
      const slip = Number.isNaN(Number(text)) ? 'Did the point or the unit slip?' : 'Is a digit wrong?'
      context.report(bad.place, `'${name}' is ${text}; ${low} to ${high} is usual. ${slip}`, {
        fixes: () => slips.map((slip) => writeValue(bad.place, slip)),
      })
    }
  },
  examples: [
    {
      name: 'a slipped point',
      text: 'colour: { ink-limit: $026 %$0 }\n',
      message: "'ink-limit' is 26 %; 80 % to 450 % is usual. Did the point or the unit slip?",
      after: 'colour: { ink-limit: 260 % }\n',
      fixes: ["Write '260 %'"],
    },
    {
      name: 'inches for millimetres, told in inches',
      text: 'gap: $01.5 in$0\n',
      message: "'gap' is 1.5 in; 0.031 in to 0.47 in is usual. Did the point or the unit slip?",
      after: 'gap: 0.15 in\n',
      fixes: ["Write '0.15 in'", "Write '1.5 mm'"],
    },
    {
      name: 'a number without a unit',
      text: '#- example.printer.yaml\nheads: { rows: $0180$0 }\n',
      message: "'rows' is 180; 1 to 32 is usual. Is a digit wrong?",
      testOnly: true,
    },
    { name: 'usual', text: 'colour: { ink-limit: 260 % }\ngap: 2 mm\n' },
  ],
})
