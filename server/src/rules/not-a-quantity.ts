// Text where a number with a unit is due: the setting is not given.
import { levelNamesOf } from '../model/level-names.ts'
import type { BadValue } from '../model/read.ts'
import { idFrom } from '../schema/structure.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS, reportBad, scalarOf } from './support/bad-quantity.ts'
import { writeValue } from './support/fixes.ts'

const mayBeLevel = ({ schema }: BadValue): boolean => schema.accepts.some((type) => type.type === 'text' && type.form === 'level')

/** The level of that setting which the printer calls so, but for capitals and blanks. */
function levelMeant({ setup }: RuleContext, bad: BadValue): Fix | undefined {
  const { path, readsBack = path } = bad.schema
  const name = idFrom(scalarOf(bad)?.text ?? '')
  return name !== undefined && levelNamesOf(setup?.printer, readsBack)?.entries.has(name)
    ? writeValue(bad.place, name)
    : undefined
}

export const rule = defineRule({
  code: 'not-a-quantity',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A text stands where a number with a unit is due.',
  docs: `The key takes a measured value, and what stands there is none. The setting counts as not given. A remark belongs behind a \`#\` or
below \`notes\`.`,
  check: (context) =>
    reportBad(
      context,
      'not-a-quantity',
      (bad) => [levelMeant(context, bad)],
      (bad) =>
        mayBeLevel(bad) ? ' So is a level of the machine: its number, or its name in lower-case words joined by hyphens.' : '',
    ),
  examples: [
    {
      name: 'a word for a gap',
      text: 'gap: $0low$0\n',
      message: "'low' is not a number with a unit; a length (mm, m, µm or in) is due.",
    },
    {
      name: 'about so much',
      text: 'gap: $0~2 mm$0\n',
      message: "'~2 mm' is not a number with a unit; a length (mm, m, µm or in) is due.",
      after: 'gap: 2 mm\n',
      fixes: ["Write '2 mm'"],
    },
    {
      name: 'a level with a capital letter',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $0Mid$0 # as on the old machine
#- p.printer.yaml
printer: p
suction:
  levels: { 1: 100 Pa, 2: 200 Pa }
  level-names: { low: 1, mid: 2 }
`,
      message:
        "'Mid' is not a number with a unit; a pressure (Pa, kPa or inH2O) is due. So is a level of the machine: its number, or its name in lower-case words joined by hyphens.",
      after: `profile: e
printer: p
suction: mid # as on the old machine
`,
      fixes: ["Write 'mid'"],
    },
    {
      name: 'a level of another setting',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $0Firm$0
#- p.printer.yaml
printer: p
suction: { levels: { 1: 100 Pa } }
web: { tension-levels: { 1: 8 N/m }, tension-level-names: { firm: 1 } }
`,
      message:
        "'Firm' is not a number with a unit; a pressure (Pa, kPa or inH2O) is due. So is a level of the machine: its number, or its name in lower-case words joined by hyphens.",
      fixes: [],
      testOnly: true,
    },
    {
      name: 'an empty text',
      text: "gap: $0''$0\n",
      message: 'There is no value; a length (mm, m, µm or in) is due.',
      testOnly: true,
    },
    {
      name: 'a number with a unit',
      text: 'gap: 2 mm # low\n',
    },
  ],
})
