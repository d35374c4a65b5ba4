// A setting that repeats what the base gives anyway.
import { resolveLevel } from '../model/level-names.ts'
import { INHERITED, sameValue, settingAt, writtenText } from '../model/setting.ts'
import { defineRule } from './rule.ts'
import { removeSetting } from './support/setting.ts'

export const rule = defineRule({
  code: 'base-redundant',
  severity: 'hint',
  kinds: ['media'],
  summary: 'A setting repeats the value of the base.',
  docs: `A profile on a base says only what differs: what it repeats no longer follows when the base is changed, and hides what does differ. Take the line out, unless the value
is meant to stay as it is whatever becomes of the base.`,
  check({ document, setup, report }) {
    const { own, bases, baseProblem } = setup
    if (bases.length === 0 || baseProblem?.kind === 'circular') return
    for (const path of INHERITED) {
      const mine = settingAt(own, path)
      if (!mine || mine.place.file !== document.file) continue
      const from = bases.find((base) => settingAt(base.content, path))
      const theirs = resolveLevel(setup.printer, path.join('.'), from && settingAt(from.content, path))
      if (!from || !theirs || !sameValue(mine.value, theirs.value)) continue
      report(mine.place, `${path.join('.')} is ${writtenText(theirs)} in ${from.baseName} already, and need not be given here.`, {
        unnecessary: true,
        fixes: () => [removeSetting(document, path, `Take ${path.join('.')} out, as it is the same in ${from.baseName}`)],
      })
    }
  },
  examples: [
    {
      name: 'the same in other words',
      text: `#- e.media.yaml
profile: e
base: other
heat:
  platen: $0104 °F$0
  after: 50 °C
#- other.media.yaml
profile: other
heat: {platen: 40 °C, after: 48 °C}
`,
      message: 'heat.platen is 40 °C in other already, and need not be given here.',
      after: `profile: e
base: other
heat:
  after: 50 °C
`,
      fixes: ['Take heat.platen out, as it is the same in other'],
      unnecessary: true,
    },
    {
      name: 'the only one of its section',
      text: `#- e.media.yaml
profile: e
base: other
heat:
  platen: $040 °C$0
suction: 2
#- other.media.yaml
profile: other
heat: {platen: 40 °C, after: 48 °C}
`,
      message: 'heat.platen is 40 °C in other already, and need not be given here.',
      after: `profile: e
base: other
suction: 2
`,
      fixes: ['Take heat.platen out, as it is the same in other'],
      unnecessary: true,
      testOnly: true,
    },
    {
      name: 'what differs, and what is never taken from a base',
      text: `#- e.media.yaml
profile: e
base: other
slot: 3
heat: {platen: 41 °C}
#- other.media.yaml
profile: other
slot: 3
heat: {platen: 40 °C}
`,
    },
  ],
})
