// A file that the profile names under `colour` is not there, or where nothing is read.
import { defineRule } from '../../../rules/rule.ts'
import { quoted } from '../../../rules/support/words.ts'
import { TARGET } from '../examples.ts'
import { ownFiles } from '../shared.ts'

export const rule = defineRule({
  code: 'colour-file-missing',
  severity: 'error',
  kinds: ['media'],
  summary: 'A colour file that the profile names is not there.',
  docs: `Paths under \`colour\` begin in the folder of the document that they stand in, and lead to files in the shop's folder: what lies elsewhere is on one machine only,
and is not read. Look for a slip in the name; commit the file beside the profile, so that the next person has it too. Colours that nobody can read are not judged.`,
  check({ setup, report }) {
    for (const { field, attached } of ownFiles(setup)) {
      if (attached?.state !== 'unread') continue
      const name = quoted(String(field.value), 60)
      if (attached.why === 'missing') report(field.place, `There is no file ${name}; paths begin in this document's folder.`)
      else if (attached.why === 'outside')
        report(field.place, `${name} leads out of the shop's folder, where nothing is read: put the file into the shop.`)
    }
  },
  examples: [
    {
      name: 'a slip in the name',
      text: `colour: {reference: $0targte.txt$0}\n${TARGET}`,
      message: "There is no file 'targte.txt'; paths begin in this document's folder.",
    },
    {
      name: 'a file elsewhere',
      text: 'colour: {icc: $0C:/colour/film.icc$0}\n#- rollbook.yaml\nshop: s\n',
      message: "'C:/colour/film.icc' leads out of the shop's folder, where nothing is read: put the file into the shop.",
    },
    {
      name: 'above the shop',
      text: 'colour: {measured: [{file: $0../strip.txt$0, date: 2026-03-20}]}\n#- rollbook.yaml\nshop: s\n',
      message: "'../strip.txt' leads out of the shop's folder, where nothing is read: put the file into the shop.",
      testOnly: true,
    },
    { name: 'a file that is there', text: `colour: {reference: target.txt}\n${TARGET}` },
    {
      name: 'a name that a base gives is told there',
      text: 'profile: e\nbase: b\n#- b.media.yaml\nprofile: b\ncolour: {icc: gone.icc}\n',
      testOnly: true,
    },
  ],
})
