// A state whose name was made of another content: somebody changed what it says, or a merge put a line under a name that is not its own.
import { replaceKey, replaceValue } from '../model/edit.ts'
import { isMadeName, nameByContent, statesOf } from '../model/states.ts'
import { defineRule, type RuleContext } from './rule.ts'
import { allOf, type NamedState, soundStates } from './support/states.ts'

export const rule = defineRule({
  code: 'state-differs',
  severity: 'error',
  risk: 'length',
  kinds: ['media'],
  summary: 'A state does not say what its name tells.',
  docs: `The name that Rollbook gives a state is a sum over what it says. Where the two differ, the state was changed after evidence was put under it, or
a merge mixed two: what the machine was really set to is not known, and nothing under it proves anything. Look into the history which is right. If
the state says what ran, give it the name of its content; if the evidence was made under the old settings, put those back.`,
  check(context) {
    for (const found of soundStates(context)) {
      const { name, state, at, under } = found
      const wanted = isMadeName(name) ? nameByContent(state) : undefined
      if (wanted === undefined || wanted === name) continue
      const proves = under.length > 0 ? ' Nothing under it proves anything until that is settled.' : ''
      context.report(at, `State '${name}' was changed or mixed up: what it says has the name '${wanted}'.${proves}`, {
        fixes: () => [rename(context, found, wanted)],
      })
    }
  },
  examples: [
    {
      name: 'changed after the check',
      text: `feed:
  checks:
    - { date: 2026-03-14, under: s7f2c }
conditions:
  $0s7f2c$0: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
`,
      message:
        "State 's7f2c' was changed or mixed up: what it says has the name 's3m4f'. Nothing under it proves anything until that is settled.",
      after: `feed:
  checks:
    - { date: 2026-03-14, under: s3m4f }
conditions:
  s3m4f: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
`,
      fixes: ["Call it 's3m4f', here and on the evidence under it"],
    },
    {
      name: 'its right name is there',
      text: `conditions:
  $0s7f2c$0: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
  s3m4f: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
`,
      message: "State 's7f2c' was changed or mixed up: what it says has the name 's3m4f'.",
      fixes: [
        "Call it 's3m4f' [refused: There is a state 's3m4f' already, which says the same. Put the evidence under that one.]",
      ],
      testOnly: true,
    },
    {
      name: 'a slip in it is told first',
      text: `conditions:
  s7f2c: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 bars }
`,
      testOnly: true,
    },
    {
      name: 'the name of its content, and an own name',
      text: `conditions:
  s3m4f: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
  morning: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 3 }
`,
    },
  ],
})

/** The right name, here and wherever evidence names the state. */
function rename({ document, setup }: RuleContext<'media'>, { state, under }: NamedState, wanted: string) {
  const title = under.length > 0 ? `Call it '${wanted}', here and on the evidence under it` : `Call it '${wanted}'`
  if (statesOf(setup).has(wanted))
    return {
      title,
      edits: [],
      refused: `There is a state '${wanted}' already, which says the same. Put the evidence under that one.`,
    }
  const key = state.$.key
  if (!key || state.$.aliased || key.shared)
    return { title, edits: [], refused: 'It is shared through an anchor (&) and an alias (*). Write it out first.' }
  return allOf(title, [
    replaceKey(key, wanted),
    ...under.map((made) => replaceValue({ ...made.under!.place, file: document.file }, wanted)),
  ])
}
