// A setting that nothing in the printer's document tells of: whether the machine takes it cannot be judged.
import { DESCRIBED, isHarmless } from '../../../model/described.ts'
import { settingAt, writtenText } from '../../../model/setting.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { relatedTo } from '../../landing/shared.ts'

export const rule = defineRule({
  code: 'setting-not-described',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The document of the printer does not tell of what is set.',
  docs: `A heat, a gap, a suction or a place in the memory is judged by what the printer's document says it can be set to. Where that says nothing, the number may be one that the machine does not take,
or has no part for, and no finding would tell. Write the part into the printer's document, from the machine's own papers or from its panel; an empty one (\`heaters: {}\`) says that it has none. Never try out how far a
setting goes on the running machine: heat, moving heads and a pulling web hurt, and the machine's safety documents come first.`,
  check({ setup, report }) {
    const { printer, profile } = setup
    if (!printer || !profile.printer) return
    for (const { path, by, has } of DESCRIBED) {
      const given = has(printer) ? undefined : settingAt(profile, path.split('.'))
      if (!given || isHarmless(given.value) || toldByBase(setup, given, profile.printer)) continue
      report(
        given.place,
        `The document of ${profile.printer.value} gives no ${by}: whether it takes ${path} ${writtenText(given)} is not judged.`,
        relatedTo(printer.printer?.place, 'The printer.'),
      )
    }
  },
  examples: [
    {
      name: 'a printer that says nothing of its heaters',
      text: `#- e.media.yaml
profile: e
printer: p
heat: {after: $0140 °C$0}
#- p.printer.yaml
printer: p
slots: 30
`,
      message: 'The document of p gives no heaters: whether it takes heat.after 140 °C is not judged.',
      related: ['The printer. p'],
    },
    {
      name: 'a pull',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: $020 N/m$0, slack-watch: never}
drying: {pause: 0 s}
#- p.printer.yaml
printer: p
web: {speed-range: [20 mm/s, 120 mm/s]}
`,
      message:
        'The document of p gives no web.tension-range or web.tension-levels: whether it takes web.tension 20 N/m is not judged.',
      related: ['The printer. p'],
    },
    {
      name: 'a printer that has no heaters, and says so',
      text: `#- e.media.yaml
profile: e
printer: p
heat: {after: 60 °C}
slot: 3
#- p.printer.yaml
printer: p
heaters: {}
slots: 30
`,
    },
    {
      name: 'told once, in the base',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
base: b
mode: m
#- b.media.yaml
profile: b
printer: p
slot: 3
heat: {after: 60 °C}
#- p.printer.yaml
printer: p
modes: {m: {}}
`,
    },
  ],
})
