// Evidence that names a state which is not there: the settings it was made under are not known.
import { nearest } from '../base/nearest.ts'
import { otherState } from '../model/proposed-states.ts'
import { addState, putUnder } from '../model/state-add.ts'
import { madeUnder } from '../model/state-evidence.ts'
import { OTHER_RAN, settingsNow, statesOf } from '../model/states.ts'
import { isId } from '../schema/structure.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { fixOf, writeValue } from './support/fixes.ts'
import { doubtful } from './support/references.ts'

export const rule = defineRule({
  code: 'under-unknown',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: 'Evidence names a state that the profile does not have.',
  docs: `Evidence proves a number only under the settings it was made with, and those stand under \`conditions\` of the same profile. Where the name
leads to no state, nothing is known of them. Look for a slip in the name, or for a line that a merge lost. Put it under today's settings only where you know that they
ran. Where nobody knows, leave \`under\` out: the evidence is then shown, and proves nothing. Where \`another-setting-ran\` was chosen while recording, write that state down: the
fix adds one with today's settings, in which what was other is changed.`,
  check(context) {
    const { setup, document } = context
    const states = statesOf(setup)
    for (const { under, path } of madeUnder(setup.own)) {
      if (!under || states.has(under.value)) continue
      if (under.place.file !== document.file || !isId(under.value) || doubtful(context, under)) continue
      if (under.value === OTHER_RAN) {
        context.report(under.place, `Write down which setting ran when this was made; until then it proves nothing.`, {
          fixes: () => otherRan(context, path),
        })
        continue
      }
      const holder = setup.bases.find((base) => base.content?.conditions?.entries.has(under.value))
      const near = nearest(under.value, [...states.keys()])
      const why = holder
        ? `; that of ${holder.baseName} is not taken over`
        : near === undefined
          ? ', so what the machine was set to is not known'
          : `; did you mean '${near}'?`
      const end = why.endsWith('?') ? '' : '.'
      context.report(under.place, `This profile has no state '${under.value}'${why}${end}`, {
        fixes: () => [near === undefined ? underToday(context, path) : writeValue(under.place, near)],
      })
    }
  },
  examples: [
    {
      name: 'a slip in the name',
      text: `feed:
  checks:
    - { date: 2026-03-14, under: $0mornign$0 }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
      message: "This profile has no state 'mornign'; did you mean 'morning'?",
      after: `feed:
  checks:
    - { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
      fixes: ["Write 'morning'"],
    },
    {
      name: 'a line that got lost',
      text: 'alignment: { date: 2026-03-14, under: $0s7f2c$0 }\n',
      message: "This profile has no state 's7f2c', so what the machine was set to is not known.",
      fixes: [
        'Put it under the settings as they are today [refused: This profile names no stock, so what its settings mean cannot be told.]',
      ],
    },
    {
      name: 'another setting ran',
      text: `stock: film
printer: bay-1
mode: fine
alignment: { date: 2026-03-14, under: $0another-setting-ran$0 }
suction: 3
`,
      message: 'Write down which setting ran when this was made; until then it proves nothing.',
      after: `stock: film
printer: bay-1
mode: fine
alignment: { date: 2026-03-14, under: s8uw2 }
suction: 3
conditions:
  s8uw2: { from: said, stock: film, printer: bay-1, mode: fine, suction: 3 }
`,
      fixes: ["Write a state as said with today's settings: change there what was other"],
    },
    {
      name: 'another setting ran, and there is such a copy already',
      text: `stock: film
printer: bay-1
mode: fine
alignment: { date: 2026-03-14, under: $0another-setting-ran$0 }
heat: { readings: [{ date: 2026-03-14, under: by-hand }] }
conditions:
  by-hand: { from: said, stock: film, printer: bay-1, mode: fine }
`,
      message: 'Write down which setting ran when this was made; until then it proves nothing.',
      testOnly: true,
    },
    {
      name: 'a state of the base',
      text: `#- e.media.yaml
profile: e
base: f
heat: { readings: [{ date: 2026-03-14, under: $0morning$0 }] }
#- f.media.yaml
profile: f
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
      message: "This profile has no state 'morning'; that of f is not taken over.",
      fixes: [
        'Put it under the settings as they are today [refused: This profile names no stock, so what its settings mean cannot be told.]',
      ],
      testOnly: true,
    },
    {
      name: 'a state of the profile, and none',
      text: `feed:
  checks:
    - { date: 2026-03-14, under: morning }
    - { date: 2026-03-15 }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
    },
    { name: 'what is no name is told by another rule', text: 'alignment: { under: This Morning }\n', testOnly: true },
  ],
})

/** For whoever knows that they ran. */
const underToday = ({ document, setup }: RuleContext<'media'>, path: readonly (string | number)[]): Fix =>
  fixOf('Put it under the settings as they are today', putUnder(document, setup, path, settingsNow(setup), 'profile'))

/** A copy of today's settings to be changed; none where there is one already, which other evidence is under. */
function otherRan({ document, setup }: RuleContext<'media'>, path: readonly (string | number)[]): readonly Fix[] {
  const { fields, from } = otherState(setup)
  const added = addState(document, setup, fields, from)
  if (added.ok && added.edits.length === 0) return []
  return [
    fixOf(
      "Write a state as said with today's settings: change there what was other",
      putUnder(document, setup, path, fields, from),
    ),
  ]
}
