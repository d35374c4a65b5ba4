// The profile asks for slack to be watched on a printer that cannot watch for it.
import { defineRule } from '../../../rules/rule.ts'
import { LOOK_FROM_OUTSIDE } from '../../../rules/support/cautions.ts'
import { writeSetting } from '../../../rules/support/setting.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { LEVEL_PRINTER, RANGE_PRINTER } from '../examples.ts'

export const rule = defineRule({
  code: 'slack-watch-missing',
  severity: 'warning',
  risk: 'harm',
  kinds: ['media'],
  summary: 'The profile relies on a slack watch the printer does not have.',
  docs: `With a slack watch the machine looks for loose web and stops. The printer's document says that this one has none, so nothing stops it: whoever reads the profile believes the loop is
watched. Set \`none\`, and have somebody watch it: slack web can be struck by the carriage or run into a hot part. If the machine does watch, say so in its document.
${LOOK_FROM_OUTSIDE}`,
  check({ document, setup, report }) {
    const given = setup.profile.web?.['slack-watch']
    const watch = setup.printer?.web?.['slack-watch']
    if (given?.value !== 'at-intervals' || watch?.value !== false || toldByBase(setup, given, setup.profile.printer)) return
    report(given.place, `${setup.profile.printer!.value} cannot watch for slack: nothing will stop it when the web runs loose.`, {
      fixes: () => [writeSetting(document, ['web', 'slack-watch'], 'none', 'Set none, and watch the loop')],
      related: [{ file: watch.place.file, span: watch.place.node, message: 'The printer has no slack watch.' }],
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
web: {tension: 20 N/m, slack-watch: none}
`,
      fixes: ['Set none, and watch the loop'],
      related: ['The printer has no slack watch. false'],
    },
    {
      name: 'a printer that does',
      text: `#- e.media.yaml
profile: e
printer: p
web: {tension: 2, slack-watch: at-intervals}
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
