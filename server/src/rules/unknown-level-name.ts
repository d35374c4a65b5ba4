// A word that stands for a level where the printer calls none of its levels so: nothing is known of what is set.
import { nearest } from '../base/nearest.ts'
import type { F } from '../model/field.ts'
import { LEVEL_SETTINGS, type LevelSetting, levelName, levelNamesOf, levelsOf } from '../model/level-names.ts'
import { type SettingValue, settingAt } from '../model/setting.ts'
import { settingWords } from '../model/state-words.ts'
import { defineRule } from './rule.ts'
import { writeValue } from './support/fixes.ts'
import { toldByBase } from './support/told-by-base.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'unknown-level-name',
  severity: 'error',
  risk: 'harm',
  kinds: ['media'],
  summary: 'A level is given by a name that the printer does not give to any.',
  docs: `The names of levels stand in the printer's document, under \`suction.level-names\` and \`web.tension-level-names\`. Of a word that is not there nobody knows what it
does to the web: nothing that rests on it is judged. Correct it, write the number, or name the level there.`,
  check({ document, setup, report }) {
    const { profile, own, printer } = setup
    if (!printer) return
    const id = profile.printer!.value
    const tell = (key: LevelSetting, field: F<SettingValue> | undefined): void => {
      if (typeof field?.value !== 'string') return
      const known = [...(levelNamesOf(printer, key)?.entries.keys() ?? [])]
      const near = nearest(field.value, known)
      const levels = [...(levelsOf(printer, key)?.entries.keys() ?? [])].map((level) => levelName(printer, key, Number(level)))
      const has = levels.length === 0 ? 'its document names none' : `it has ${listed(levels)}`
      report(field.place, `${id} has no ${settingWords(key)} level '${field.value}'; ${has}.`, {
        fixes: () => [near === undefined || field.place.file !== document.file ? undefined : writeValue(field.place, near)],
      })
    }
    for (const key of LEVEL_SETTINGS) {
      const field = settingAt(profile, key.split('.'))
      if (!toldByBase(setup, field, profile.printer)) tell(key, field)
      for (const { suction, tension } of own.keyed?.items ?? []) tell(key, key === 'suction' ? suction : tension)
    }
  },
  examples: [
    {
      name: 'a mistyped name',
      text: `#- e.media.yaml
profile: e
printer: p
suction: $0midd$0 # as on the old machine
#- p.printer.yaml
printer: p
suction:
  levels: { 1: 100 Pa, 2: 200 Pa, 3: 320 Pa }
  level-names: { low: 1, mid: 2 }
`,
      message: "p has no suction level 'midd'; it has low, mid and 3.",
      after: `profile: e
printer: p
suction: mid # as on the old machine
`,
      fixes: ["Write 'mid'"],
    },
    {
      name: 'a tension by name on a printer that names none',
      text: `#- e.media.yaml
profile: e
printer: p
web: { tension: $0firm$0 }
#- p.printer.yaml
printer: p
web: { tension-levels: { 1: 8 N/m, 2: 15 N/m } }
`,
      message: "p has no tension level 'firm'; it has 1 and 2.",
      testOnly: true,
    },
    {
      name: 'what was read back',
      text: `#- e.media.yaml
profile: e
printer: p
keyed: [{ date: 2026-03-14, tension: $0frim$0 }]
#- p.printer.yaml
printer: p
web: { tension-level-names: { firm: 3 } }
`,
      message: "p has no tension level 'frim'; its document names none.",
      after: 'profile: e\nprinter: p\nkeyed: [{ date: 2026-03-14, tension: firm }]\n',
      fixes: ["Write 'firm'"],
      testOnly: true,
    },
    {
      name: 'told once, in the base',
      text: `#- e.media.yaml
profile: e
base: b
#- b.media.yaml
profile: b
printer: p
suction: midd
#- p.printer.yaml
printer: p
`,
      testOnly: true,
    },
    {
      name: 'a name that the printer gives, and a printer that is not there',
      text: `#- e.media.yaml
profile: e
printer: p
suction: mid
keyed: [{ date: 2026-03-14, suction: mid, tension: 2 }]
#- p.printer.yaml
printer: p
suction: { levels: { 2: 200 Pa }, level-names: { mid: 2 } }
`,
    },
    { name: 'no printer', text: 'printer: p\nsuction: mid\n', testOnly: true },
  ],
})
