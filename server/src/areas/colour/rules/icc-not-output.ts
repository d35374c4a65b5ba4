// The ICC profile is one of a display, a scanner or a colour space, and none of a printer.
import { channelsOf, classWords, signatureText } from '../../../model/icc.ts'
import { defineRule } from '../../../rules/rule.ts'
import { quotedFile } from '../../../rules/support/words.ts'
import { colourOf } from '../facts.ts'
import { isOwn } from '../shared.ts'

export const rule = defineRule({
  code: 'icc-not-output',
  severity: 'error',
  kinds: ['media'],
  summary: 'The ICC profile is no output profile.',
  docs: `A stock on a printer is described by a profile of the class output (\`prtr\`, ISO 15076-1), in a colour space of inks, grey or RGB. One of a display or a scanner says nothing of this
stock: colours come out by chance. Look whether the input and the output file were taken for each other.`,
  check({ setup, report }) {
    const named = setup.colourFiles.icc
    const { icc } = colourOf(setup)
    if (!named || !icc || !isOwn(setup, named)) return
    const name = quotedFile(String(named.field.value))
    if (icc.deviceClass !== 'prtr')
      report(
        named.field.place,
        `${name} is ${classWords(icc.deviceClass)}, and no output profile: it says nothing of this printer and stock.`,
      )
    else if (channelsOf(icc.space) === undefined)
      report(
        named.field.place,
        `${name} is an output profile for the colour space ${signatureText(icc.space)}, in which no printer prints.`,
      )
  },
  examples: [
    {
      name: 'a profile of a display',
      text: 'colour: {icc: $0screen.icc$0}\n#- screen.icc\nICC profile of class mntr, space RGB\n',
      message: "'screen.icc' is a display profile, and no output profile: it says nothing of this printer and stock.",
    },
    {
      name: 'an output profile for no inks',
      text: 'colour: {icc: $0film.icc$0}\n#- film.icc\nICC profile of class prtr, space Lab\n',
      message: "'film.icc' is an output profile for the colour space Lab, in which no printer prints.",
      testOnly: true,
    },
    { name: 'an output profile', text: 'colour: {icc: film.icc}\n#- film.icc\nICC profile of class prtr, space RGB\n' },
  ],
})
