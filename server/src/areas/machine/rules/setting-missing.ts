// Settings the printer has and the profile neither gives nor takes from a base.

import { keyedOf } from '../../../areas/machine/read-back.ts'
import { openSettings } from '../../../model/open-settings.ts'
import { writtenText } from '../../../model/setting.ts'
import { defineRule } from '../../../rules/rule.ts'
import { isMistyped } from '../../../rules/support/mistakes.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { listed } from '../../../rules/support/words.ts'

const PRINTER = `#- p.printer.yaml
printer: p
carriage: {gaps: [1.5 mm, 2.0 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
heaters: {platen: {length: 200 mm, range: [30 °C, 50 °C]}}
suction: {levels: {1: 100 Pa, 2: 200 Pa}}
`

export const rule = defineRule({
  code: 'setting-missing',
  severity: 'hint',
  kinds: ['media'],
  summary: 'The profile leaves settings open that the printer has.',
  docs: `What a profile does not say stays at whatever the last job left in the machine. A profile is complete when every setting its printer has is given or taken from a
base. A quick fix fills them in as a started profile has them, each with its reason; none of that is proven before a test print. What was read back from the machine is
offered as it is. Ignore it while a
stock is being brought in.`,
  check({ document, setup, report }) {
    const { printer, profile, own } = setup
    if (!printer || !own.profile || isMistyped(document)) return
    const missing = openSettings(printer, profile)
    if (missing.length === 0) return
    const count = missing.length === 1 ? '1 setting of the printer is' : `${missing.length} settings of the printer are`
    report(own.profile.place, `${count} left open: ${listed(missing)}.`, {
      fixes: () =>
        keyedOf(setup)
          .filter((found) => found.correction === undefined && missing.includes(found.path.join('.')))
          .map((found) => {
            const text = writtenText(found.keyed)
            return writeSetting(
              document,
              found.path,
              text,
              `Write ${found.path.join('.')} ${text}, as it was read back from the machine`,
            )
          }),
    })
  },
  examples: [
    {
      name: 'two left open',
      text: `#- e.media.yaml
profile: $0e$0
printer: p
gap: 1.5 mm
feed: {correction: 0 %}
${PRINTER}`,
      message: '2 settings of the printer are left open: heat.platen and suction.',
    },
    {
      name: 'one that was read back',
      text: `#- e.media.yaml
profile: $0e$0
printer: p
gap: 1.5 mm
feed: {correction: 0 %}
suction: 2
keyed: [{date: 2026-03-24, platen: 40 °C}]
${PRINTER}`,
      message: '1 setting of the printer is left open: heat.platen.',
      after: `profile: e
printer: p
gap: 1.5 mm
feed: {correction: 0 %}
suction: 2
keyed: [{date: 2026-03-24, platen: 40 °C}]
heat: { platen: 40 °C }
`,
      fixes: ['Write heat.platen 40 °C, as it was read back from the machine'],
    },
    {
      name: 'taken from a base',
      text: `#- e.media.yaml
profile: e
base: other
suction: 1
#- other.media.yaml
profile: other
printer: p
gap: 1.5 mm
feed: {correction: 0 %}
heat: {platen: 40 °C}
${PRINTER}`,
    },
  ],
})
