// A comma in a number: 1,000 mm is a metre to one reader and a millimetre to another.
import { defineRule, type RuleContext } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'
import { mistakesOf } from './support/mistakes.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'comma-decimal',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A number is written with a comma.',
  docs: `The decimal mark is a point, and thousands are not marked. \`1,000 mm\` is a metre to one reader and a millimetre to another, so nothing is
guessed: both readings are offered. Inside brackets a comma also ends the value, and the digits behind it are lost. The setting counts as not
given until then.`,
  check(context) {
    reportBad(context, 'comma-decimal')
    reportSplits(context)
  },
  examples: [
    {
      name: 'a decimal comma',
      text: 'gap: $02,0$0 mm\n',
      message: "'2,0' has a decimal comma; write a decimal point, '2.0 mm'.",
      after: 'gap: 2.0 mm\n',
      fixes: ["Write '2.0 mm' [preferred]"],
    },
    {
      name: 'a comma that can be either',
      text: 'feed:\n  checks:\n    - commanded: $01,000$0 mm\n',
      message: "'1,000' can be read as 1.000 or as 1000; write '1.000 mm' or '1000 mm'.",
      fixes: ["Write '1000 mm'", "Write '1.000 mm'"],
    },
    {
      name: 'inside brackets',
      text: 'feed:\n  checks:\n    - { commanded: 1000 mm, measured: $0998,8 mm$0, applied: 0 % }\n',
      message: "The comma in '998,8 mm' ends the value here, and '8 mm' is lost; write a decimal point, '998.8 mm'.",
      after: 'feed:\n  checks:\n    - { commanded: 1000 mm, measured: 998.8 mm, applied: 0 % }\n',
      fixes: ["Write '998.8 mm' [preferred]"],
    },
    {
      name: 'in a list',
      text: '#- example.printer.yaml\nfeed: { range: [$0-0,5 %$0, 1 %] }\n',
      message: "The comma in '-0,5 %' ends the value here, and '5 %' is lost; write a decimal point, '-0.5 %'.",
      after: 'feed: { range: [-0.5 %, 1 %] }\n',
      fixes: ["Write '-0.5 %' [preferred]"],
      testOnly: true,
    },
    {
      name: 'thousands inside brackets',
      text: 'feed:\n  checks:\n    - { commanded: $01,000 mm$0, applied: 0 % }\n',
      message: "The comma in '1,000 mm' ends the value here, and '000 mm' is lost; write '1.000 mm' or '1000 mm'.",
      fixes: ["Write '1.000 mm'", "Write '1000 mm'"],
      testOnly: true,
    },
    { name: 'a decimal point', text: 'gap: 2.0 mm\nfeed: { fine: { picks: [0,1,0] } }\n' },
  ],
})

/** Numbers that a comma cut in two, inside brackets. */
function reportSplits(context: RuleContext): void {
  const { text } = context.document
  for (const { start, end, comma } of mistakesOf(context.document).splits) {
    const written = text.slice(start, end)
    const lost = text.slice(comma + 1, end)
    const point = `${text.slice(start, comma)}.${lost}`
    const together = `${text.slice(start, comma)}${lost}`
    const either = /^[-−+]?[1-9]\d{0,2},\d{3}(?!\d)/.test(written)
    const right = either ? `write ${quoted(point)} or ${quoted(together)}` : `write a decimal point, ${quoted(point)}`
    context.report(
      { start, end },
      `The comma in ${quoted(written)} ends the value here, and ${quoted(lost)} is lost; ${right}.`,
      {
        fixes: () => [
          { title: `Write ${quoted(point)}`, edits: [{ start: comma, end: comma + 1, newText: '.' }], preferred: !either },
          either ? { title: `Write ${quoted(together)}`, edits: [{ start: comma, end: comma + 1, newText: '' }] } : undefined,
        ],
      },
    )
  }
}
