// A state of another stock or printer than the profile's: what is under it was never measured on this pairing.
import { defineRule } from './rule.ts'
import { soundStates } from './support/states.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'state-elsewhere',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A state is of another stock or printer than the profile.',
  docs: `The profile went over to another stock or printer, or the evidence was copied. A feed and an alignment belong to one machine and one material, and
no reckoning brings them to another: what is under such a state may be shown as what to expect, and proves nothing here. Print again.`,
  check(context) {
    const { profile } = context.setup
    for (const { name, state, under } of soundStates(context)) {
      if (under.length === 0) continue
      for (const kind of ['stock', 'printer'] as const) {
        const [then, now] = [state[kind], profile[kind]]
        if (!then || !now || then.value === now.value) continue
        context.report(
          then.place,
          `${quoted(name)} is of ${kind} ${quoted(then.value)}, and this profile is for ${quoted(now.value)}: what is under it proves nothing here.`,
        )
      }
    }
  },
  examples: [
    {
      name: 'another printer',
      text: `stock: film
printer: bay-2
alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: $0bay-1$0, mode: fine }
`,
      message: "'morning' is of printer 'bay-1', and this profile is for 'bay-2': what is under it proves nothing here.",
    },
    {
      name: 'the same, and one that nothing is under',
      text: `stock: film
printer: bay-2
alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-2, mode: fine }
  evening: { from: said, stock: film, printer: bay-1, mode: fine }
`,
    },
  ],
})
