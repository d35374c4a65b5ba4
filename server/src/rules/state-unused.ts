// A state that no evidence names. It is told and never taken away: a person wrote it, and the evidence may be on its way.
import { defineRule } from './rule.ts'
import { soundStates } from './support/states.ts'

export const rule = defineRule({
  code: 'state-unused',
  severity: 'hint',
  kinds: ['media'],
  summary: 'No evidence is under a state.',
  docs: `The evidence was put under another state, or was never written down, or a merge lost it. Where neither is so the line can go: that is for whoever
wrote it to say, so nothing is offered.`,
  check(context) {
    for (const { name, at, under } of soundStates(context))
      if (under.length === 0)
        context.report(at, `No evidence is under '${name}'. It can go if none is missing.`, { unnecessary: true })
  },
  examples: [
    {
      name: 'nothing under it',
      text: `alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
  $0evening$0: { from: said, stock: film, printer: bay-1, mode: draft }
`,
      message: "No evidence is under 'evening'. It can go if none is missing.",
      unnecessary: true,
    },
    {
      name: 'one reading under it',
      text: `heat: { readings: [{ date: 2026-03-14, under: morning }] }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
`,
    },
  ],
})
