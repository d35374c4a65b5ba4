// A note on where a setting is found, for a setting that does not exist: it shows on no set-up sheet.
import { nearest } from '../../../base/nearest.ts'
import { defineRule } from '../../../rules/rule.ts'
import { writeValue } from '../../../rules/support/fixes.ts'
import { doubtful } from '../../../rules/support/references.ts'
import { quoted } from '../../../rules/support/words.ts'
import { renamedKey } from '../../../schema/renamed.ts'
import { type DocumentKind, keysOf } from '../../../schema/schema.ts'

const PROFILE: DocumentKind = 'media'

export const rule = defineRule({
  code: 'unknown-panel-key',
  severity: 'error',
  kinds: ['printer'],
  summary: 'The panel tells where to find a setting that does not exist.',
  docs: `Each entry of \`panel\` says where one setting of a profile is found on this machine, and set-up sheets print it beside the value. The key is
written with its section, \`feed.correction\`; under any other key the note is never shown.`,
  check(context) {
    const keys = keysOf(PROFILE)
    for (const { key } of context.document.content?.panel?.items ?? []) {
      if (!key || keys.includes(key.value) || doubtful(context, key)) continue
      const within = keys.filter((known) => known.endsWith(`.${key.value}`) && !known.includes('*'))
      const near = renamedKey(key.value, keys) ?? within[0] ?? nearest(key.value, keys)
      const meant =
        near === undefined ? '; a key is written with its section, as in feed.correction.' : `; did you mean '${near}'?`
      context.report(key.place, `A profile has no setting ${quoted(key.value)}${meant}`, {
        fixes: () => (near === undefined ? [] : [writeValue(key.place, near)]),
      })
    }
  },
  examples: [
    {
      name: 'without its section',
      text: '#- bay-1.printer.yaml\npanel:\n  - { key: $0correction$0, where: second sheet }\n',
      message: "A profile has no setting 'correction'; did you mean 'feed.correction'?",
      after: 'panel:\n  - { key: feed.correction, where: second sheet }\n',
      fixes: ["Write 'feed.correction'"],
    },
    {
      name: 'a mistyped key',
      text: '#- bay-1.printer.yaml\npanel: [{ key: $0heat.platten$0, where: left dial }]\n',
      message: "A profile has no setting 'heat.platten'; did you mean 'heat.platen'?",
      after: 'panel: [{ key: heat.platen, where: left dial }]\n',
      fixes: ["Write 'heat.platen'"],
      testOnly: true,
    },
    {
      name: 'a key that has another name now',
      text: '#- bay-1.printer.yaml\npanel: [{ key: $0carriage.travel$0, where: left dial }]\n',
      message: "A profile has no setting 'carriage.travel'; did you mean 'carriage.turn-at'?",
      after: 'panel: [{ key: carriage.turn-at, where: left dial }]\n',
      fixes: ["Write 'carriage.turn-at'"],
      testOnly: true,
    },
    { name: 'a setting of profiles', text: '#- bay-1.printer.yaml\npanel: [{ key: feed.correction, where: second sheet }]\n' },
    {
      name: 'a key that nothing is like',
      text: `#- bay-1.printer.yaml
panel: [{ key: $0ventilation$0, where: left dial }]
`,
      message: "A profile has no setting 'ventilation'; a key is written with its section, as in feed.correction.",
      testOnly: true,
    },
  ],
})
