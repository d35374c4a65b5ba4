// The profile chooses a way to watch for slack that its printer does not list.
import { defineRule } from '../../../rules/rule.ts'
import { LOOK_FROM_OUTSIDE } from '../../../rules/support/cautions.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { LEVEL_PRINTER, RANGE_PRINTER } from '../examples.ts'
import { WATCHING } from '../words.ts'

export const rule = defineRule({
  code: 'slack-watch-missing',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The profile chooses a slack watch that the printer does not have.',
  docs: `With a slack watch the machine looks for loose web and stops. Each printer's document lists the ways in which it can be set to look. Where the profile chooses another one, whoever
reads it believes that the loop is watched, and nothing stops the machine. Choose a way that it has; with \`never\` and \`start-of-job\` have somebody watch the loop: slack web can be struck by the carriage or
run into a hot part. If the machine does have that way, write it into its document.
${LOOK_FROM_OUTSIDE}`,
  check({ document, setup, report }) {
    const given = setup.profile.web?.['slack-watch']
    const ways = setup.printer?.web?.['slack-watch']
    if (!given || !ways || ways.items.length === 0 || toldByBase(setup, given, setup.profile.printer)) return
    const has = WATCHING.filter((way) => ways.items.some(({ value }) => value === way))
    if (has.includes(given.value)) return
    const printer = setup.profile.printer!.value
    const message = has.every((way) => way === 'never')
      ? `${printer} cannot watch for slack: nothing will stop it when the web runs loose.`
      : `${printer} has no slack watch '${given.value}': it has ${listed(has.map((way) => `'${way}'`))}.`
    report(given.place, message, {
      fixes: () =>
        has.map((way) =>
          writeSetting(document, ['web', 'slack-watch'], way, way === 'never' ? 'Set never, and watch the loop' : `Set ${way}`),
        ),
      related: [{ file: ways.$.file, span: ways.$.node, message: 'What the printer has.' }],
    })
  },
  examples: [
    {
      name: 'a printer that does not watch',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 20 N/m, slack-watch: $0at-intervals$0}
${RANGE_PRINTER}`,
      message: 'p cannot watch for slack: nothing will stop it when the web runs loose.',
      after: `profile: e
printer: p
web: {tension: 20 N/m, slack-watch: never}
`,
      fixes: ['Set never, and watch the loop'],
      related: ['What the printer has. [never]'],
    },
    {
      name: 'a printer that watches in other ways',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, slack-watch: $0always$0}
${LEVEL_PRINTER}`,
      message: "p has no slack watch 'always': it has 'at-intervals', 'start-of-job' and 'never'.",
      after: `profile: e
printer: p
web: {tension: 2, slack-watch: at-intervals}
`,
      fixes: ['Set at-intervals', 'Set start-of-job', 'Set never, and watch the loop'],
      related: ['What the printer has. [never, start-of-job, at-intervals]'],
    },
    {
      name: 'a printer that cannot be kept from watching',
      text: `#- e.media.yaml
profile: e
printer: p
web: {slack-watch: $0never$0}
#- p.printer.yaml
printer: p
web: {slack-watch: [always]}
`,
      message: "p has no slack watch 'never': it has 'always'.",
      after: `profile: e
printer: p
web: {slack-watch: always}
`,
      fixes: ['Set always'],
      related: ['What the printer has. [always]'],
      testOnly: true,
    },
    {
      name: 'a way of the printer',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, slack-watch: start-of-job}
${LEVEL_PRINTER}`,
    },
    {
      name: 'a printer that says nothing',
      testOnly: true,
      text: `#- e.media.yaml
profile: e
printer: p
web: {slack-watch: at-intervals}
#- p.printer.yaml
printer: p
`,
    },
  ],
})
