// The header or the table of tags of an ICC profile says what cannot be.
import { defineRule } from '../../../rules/rule.ts'
import { plural, quotedFile } from '../../../rules/support/words.ts'
import { isOwn, readOf } from '../shared.ts'

export const rule = defineRule({
  code: 'icc-broken',
  severity: 'error',
  kinds: ['media'],
  summary: 'The ICC profile is broken.',
  docs: `The header and the table of tags of the file are held against each other and against its length (ISO 15076-1): a file that was not copied whole, an entry that leads
out of it, a table that every output profile needs and that is missing. Whatever separates colours with it may stop, or take another profile without a word. Copy the file
again from where it was made, or make it again. What the tables hold is not read.`,
  check({ setup, report }) {
    const named = setup.colourFiles.icc
    const file = named && readOf(named)
    if (!named || !isOwn(setup, named) || file?.format !== 'icc' || file.icc.problems.length === 0) return
    const [first, ...others] = file.icc.problems
    const more = others.length > 0 ? ` (and ${plural(others.length, 'fault')} more)` : ''
    report(named.field.place, `${quotedFile(String(named.field.value))} is broken: ${first}${more}.`)
  },
  examples: [
    {
      name: 'a profile that was not copied whole',
      text: 'colour: {icc: $0film.icc$0}\n#- film.icc\nICC profile of class prtr, space CMYK, cut after 200 bytes\n',
      message:
        "'film.icc' is broken: it ends after 200 bytes and says that it is 256 bytes long, so it was not copied whole (and 1 fault more).",
    },
    {
      name: 'no table to print with',
      text: 'colour: {icc: $0film.icc$0}\n#- film.icc\nICC profile of class prtr, space CMYK, with desc, A2B0\n',
      message: "'film.icc' is broken: the tag 'B2A0', which every output profile has, is missing.",
    },
    { name: 'a whole profile', text: 'colour: {icc: film.icc}\n#- film.icc\nICC profile of class prtr, space CMYK\n' },
  ],
})
