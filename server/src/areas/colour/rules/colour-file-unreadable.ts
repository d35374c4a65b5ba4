// A file that the profile names under `colour` is there and cannot be read.
import { defineRule } from '../../../rules/rule.ts'
import { quoted, sentence } from '../../../rules/support/words.ts'
import { TARGET } from '../examples.ts'
import { ownFiles } from '../shared.ts'

export const rule = defineRule({
  code: 'colour-file-unreadable',
  severity: 'error',
  kinds: ['media'],
  summary: 'A colour file that the profile names cannot be read.',
  docs: `It is a folder, closed to whoever runs this, or larger than any ICC profile or measurement (32 MB). The reason is that of the machine the file lies on. Colours that
nobody can read are not judged.`,
  check({ setup, report }) {
    for (const { field, attached } of ownFiles(setup)) {
      if (attached?.state !== 'unread' || attached.why !== 'unreadable') continue
      report(field.place, sentence(`${quoted(String(field.value), 60)} cannot be read: ${attached.reason}`))
    }
  },
  examples: [
    {
      name: 'a folder',
      text: 'colour: {reference: $0charts$0}\n#- charts/target.txt\nCGATS.17\n',
      message: "'charts' cannot be read: it is a folder.",
    },
    { name: 'a file that can be read', text: `colour: {reference: target.txt}\n${TARGET}` },
  ],
})
