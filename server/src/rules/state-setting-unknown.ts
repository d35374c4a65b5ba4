// A state that names a level, a mode, a stock or a printer which is not there (any more): what it stood for is not known.
import type { F } from '../model/field.ts'
import { levelsOf } from '../model/level-names.ts'
import { settingWords } from '../model/state-words.ts'
import { stateValue } from '../model/states.ts'
import { isId } from '../schema/structure.ts'
import { defineRule, type RuleContext } from './rule.ts'
import { doubtful } from './support/references.ts'
import { soundStates } from './support/states.ts'

export const rule = defineRule({
  code: 'state-setting-unknown',
  severity: 'warning',
  risk: 'length',
  kinds: ['media'],
  summary: 'A state names a level, mode, stock or printer that is not there.',
  docs: `Levels and modes are names, and their meaning stands in the printer's document. One that is not there (any more) says nothing about the pressure,
the pull or the passes of that time, so what rests on it is doubtful. Put it back in the printer's document if it was taken out by mistake. The state
itself is a record, and is left as it is.`,
  check(context) {
    for (const { state } of soundStates(context)) {
      for (const kind of ['stock', 'printer'] as const) reportDocument(context, kind, state[kind])
      // What another printer has decides nothing here: that a state is of another one is told.
      const { printer } = context.setup
      const id = state.printer?.value
      if (!printer || id !== printer.printer?.value) continue
      const { mode } = state
      if (mode && printer.modes && !printer.modes.entries.has(mode.value) && isId(mode.value))
        context.report(mode.place, `'${id}' has no mode '${mode.value}': its passes and speed at that time are not known.`)
      for (const key of ['suction', 'web.tension']) {
        const [field, levels] = [stateValue(state, key), levelsOf(printer, key)]
        const { value } = field ?? {}
        // A word that is left is a name that the printer does not give, whatever levels it has.
        if (field && (typeof value === 'string' || (typeof value === 'number' && levels && !levels.entries.has(String(value)))))
          context.report(field.place, `'${id}' has no ${settingWords(key)} level ${value}: what it was then is not known.`)
      }
    }
  },
  examples: [
    {
      name: 'a level that is gone',
      text: `printer: bay-1
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine, suction: $07$0 }
#- bay-1.printer.yaml
printer: bay-1
suction: { levels: { 1: 100 Pa, 2: 200 Pa } }
#- film.stock.yaml
stock: film
`,
      message: "'bay-1' has no suction level 7: what it was then is not known.",
    },
    {
      name: 'a mode that is gone',
      text: `printer: bay-1
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: $0quick$0 }
#- bay-1.printer.yaml
printer: bay-1
modes: { fine: { passes: 16 } }
#- film.stock.yaml
stock: film
`,
      message: "'bay-1' has no mode 'quick': its passes and speed at that time are not known.",
      testOnly: true,
    },
    {
      name: 'a stock that is gone',
      text: `printer: bay-1
conditions:
  morning: { from: said, stock: $0banner$0, printer: bay-1, mode: fine }
#- bay-1.printer.yaml
printer: bay-1
modes: { fine: { passes: 16 } }
`,
      message: "There is no stock 'banner' in this shop: what was printed on is not known.",
      testOnly: true,
    },
    {
      name: 'all there',
      text: `printer: bay-1
conditions:
  morning: { from: said, stock: film, printer: bay-1, mode: fine, suction: 2, web.tension: 20 N/m }
#- bay-1.printer.yaml
printer: bay-1
modes: { fine: { passes: 16 } }
suction: { levels: { 1: 100 Pa, 2: 200 Pa } }
#- film.stock.yaml
stock: film
`,
    },
  ],
})

const WHAT = { stock: 'what was printed on', printer: 'what it printed with' } as const

function reportDocument(context: RuleContext<'media'>, kind: 'stock' | 'printer', field: F<string> | undefined): void {
  const { shelf } = context
  if (!field || !isId(field.value) || doubtful(context, field) || !shelf.complete || shelf.unlisted.length > 0) return
  if (shelf.withId(kind, field.value).length === 0)
    context.report(field.place, `There is no ${kind} '${field.value}' in this shop: ${WHAT[kind]} is not known.`)
}
