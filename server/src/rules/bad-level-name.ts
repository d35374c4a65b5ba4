// A name of a level that cannot do its work: it reads like a number, it names a level that is not there, or one that has a name.
import { keySpan } from '../model/field.ts'
import { LEVEL_SETTINGS, levelNamesOf, levelsOf } from '../model/level-names.ts'
import { isLevelName } from '../model/read.ts'
import { settingWords } from '../model/state-words.ts'
import { isId } from '../schema/structure.ts'
import { defineRule } from './rule.ts'
import { mistakesOf } from './support/mistakes.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'bad-level-name',
  severity: 'error',
  risk: 'look',
  kinds: ['printer'],
  summary: 'A name of a level cannot be used.',
  docs: `A name begins with a letter, which tells it from a number, and names a level that is there. Each level has one name, which reports and sheets say.`,
  check({ document, report }) {
    const printer = document.content
    for (const key of LEVEL_SETTINGS) {
      const named = new Map<number, string>()
      const levels = levelsOf(printer, key)?.entries
      for (const [name, { value, place }] of levelNamesOf(printer, key)?.entries ?? []) {
        // What is no name at all is told as such.
        if (!isId(name) || mistakesOf(document).inDoubt(keySpan(place))) continue
        const word = `${settingWords(key)} level`
        if (!isLevelName(name)) report(keySpan(place), `'${name}' cannot name a ${word}: it has to begin with a letter.`)
        else if (levels && !levels.has(String(value)))
          report(place, `There is no ${word} ${value} to be called '${name}'; there are ${listed([...levels.keys()])}.`)
        else if (named.has(value))
          report(keySpan(place), `The ${word} ${value} is called '${named.get(value)}' already: keep one name.`)
        else named.set(value, name)
      }
    }
  },
  examples: [
    {
      name: 'a level that is not there',
      text: `#- bay-1.printer.yaml
printer: bay-1
suction:
  levels: { 1: 100 Pa, 2: 200 Pa }
  level-names: { low: 1, high: $03$0 }
`,
      message: "There is no suction level 3 to be called 'high'; there are 1 and 2.",
    },
    {
      name: 'two names for one level',
      text: `#- bay-1.printer.yaml
printer: bay-1
web:
  tension-levels: { 1: 8 N/m, 2: 15 N/m }
  tension-level-names: { slack: 1, $0loose$0: 1 }
`,
      message: "The tension level 1 is called 'slack' already: keep one name.",
    },
    {
      name: 'a name that begins like a number',
      text: `#- bay-1.printer.yaml
printer: bay-1
suction: { level-names: { $02nd$0: 2 } }
`,
      message: "'2nd' cannot name a suction level: it has to begin with a letter.",
      testOnly: true,
    },
    {
      name: 'names of levels that are there, and of levels that are not listed',
      text: `#- bay-1.printer.yaml
printer: bay-1
suction: { levels: { 1: 100 Pa, 2: 200 Pa }, level-names: { low: 1, high: 2 } }
web: { tension-level-names: { firm: 3 } }
`,
      testOnly: true,
    },
  ],
})
