// Two names for one state: evidence that belongs together stands apart, and whoever reads looks for a difference that is none.
import { replaceValue } from '../model/edit.ts'
import { contentOf, isMadeName, nameByContent, valuesOf } from '../model/states.ts'
import { defineRule, type RuleContext } from './rule.ts'
import { allOf, type NamedState, soundStates } from './support/states.ts'

export const rule = defineRule({
  code: 'state-twice',
  severity: 'warning',
  kinds: ['media'],
  summary: 'Two states say the same under different names.',
  docs: `Both were written by hand, or one by hand and one by Rollbook. Nothing is reckoned wrongly by it; but who compares the two looks for a difference,
and there is none. Put the evidence under one of them. The other is left where it is, for whoever wrote it.`,
  check(context) {
    const firsts = new Map<string, NamedState>()
    const states = soundStates(context).filter(
      ({ name, state }) => state.from && !(isMadeName(name) && nameByContent(state) !== name),
    )
    // What the tool named is named alike in every document, so it is the one to keep.
    for (const found of [...states].sort((a, b) => Number(isMadeName(b.name)) - Number(isMadeName(a.name)))) {
      const content = contentOf(valuesOf(found.state), found.state.from!.value)
      const first = firsts.get(content)
      if (!first) firsts.set(content, found)
      else if (found.under.length > 0) report(context, found, first)
    }
  },
  examples: [
    {
      name: 'by hand and by the tool',
      text: `alignment: { date: 2026-03-14, under: morning }
conditions:
  $0morning$0: { from: said, stock: film, printer: bay-1, mode: fine, gap: 0.2 cm }
  s6lus: { from: said, stock: film, printer: bay-1, mode: fine, gap: 2 mm }
`,
      message: "'morning' and 's6lus' are one state under two names.",
      after: `alignment: { date: 2026-03-14, under: s6lus }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine, gap: 0.2 cm }
  s6lus: { from: said, stock: film, printer: bay-1, mode: fine, gap: 2 mm }
`,
      fixes: ["Put what is under 'morning' under 's6lus'"],
      related: ['The same state. s6lus'],
    },
    {
      name: 'one has another source',
      text: `alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
  evening: { from: read-back, stock: film, printer: bay-1, mode: fine }
`,
    },
    {
      name: 'nothing is under the other',
      text: `alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine }
  evening: { from: said, stock: film, printer: bay-1, mode: fine }
`,
      testOnly: true,
    },
  ],
})

function report({ report, document }: RuleContext<'media'>, { name, at, under }: NamedState, first: NamedState): void {
  report(at, `'${name}' and '${first.name}' are one state under two names.`, {
    related: [{ file: document.file, span: first.at, message: 'The same state.' }],
    fixes: () => [
      allOf(
        `Put what is under '${name}' under '${first.name}'`,
        under.map((made) => replaceValue(made.under!.place, first.name)),
      ),
    ],
  })
}
