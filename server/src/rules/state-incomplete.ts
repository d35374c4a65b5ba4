// A state that leaves out settings which the profile gives today: what they were is not known, and cannot be taken for what they are today.
import { settingWords } from '../model/state-words.ts'
import { settingsNow, stateValue } from '../model/states.ts'
import { defineRule } from './rule.ts'
import { soundStates } from './support/states.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'state-incomplete',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A state does not say all that is set today.',
  docs: `What a state leaves out is not known of that time, and is never taken to have been as today: a number that rests on such a setting is
doubtful. Write down what is remembered for sure, as another state that says who says so; where nobody knows, print again.`,
  check(context) {
    const { setup, report } = context
    const { printer } = setup
    // What the profile does not say today either is told as missing there.
    const now = settingsNow(setup)
    if (!printer?.printer) return
    for (const { name, state, at, under } of soundStates(context)) {
      if (under.length === 0 || state.printer?.value !== printer.printer.value) continue
      const lacking = [...now.keys()].filter((key) => !REQUIRED.has(key) && !stateValue(state, key))
      if (lacking.length === 0) continue
      const words = listed(lacking.map(settingWords))
      report(at, `'${name}' does not say ${words}, which the profile sets today: not known then, and never taken as today.`)
    }
  },
  examples: [
    {
      name: 'without the gap',
      text: `printer: bay-1
gap: 2.0 mm
suction: 2
web: { speed: 60 mm/s }
alignment: { date: 2026-03-14, under: morning }
conditions:
  $0morning$0: { from: said, stock: film, printer: bay-1, mode: fine, suction: 2 }
#- bay-1.printer.yaml
printer: bay-1
carriage: { gaps: [1.5 mm, 2.0 mm] }
suction: { levels: { 2: 200 Pa } }
web: { speed-range: [20 mm/s, 120 mm/s] }
`,
      message:
        "'morning' does not say gap and web speed, which the profile sets today: not known then, and never taken as today.",
    },
    {
      name: 'all that is set today',
      text: `printer: bay-1
gap: 2.0 mm
alignment: { date: 2026-03-14, under: morning }
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine, gap: 2.0 mm }
  of-bay-2: { from: said, stock: film, printer: bay-2, mode: fine }
#- bay-1.printer.yaml
printer: bay-1
carriage: { gaps: [1.5 mm, 2.0 mm] }
`,
    },
  ],
})

/** What every state needs is told where it is missing. */
const REQUIRED: ReadonlySet<string> = new Set(['stock', 'printer', 'mode'])
