// The ICC profile drives more inks than the printer has.
import { signatureText } from '../../../model/icc.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed, plural, quoted, quotedFile } from '../../../rules/support/words.ts'
import { FOUR_INKS } from '../examples.ts'
import { colourOf } from '../facts.ts'

export const rule = defineRule({
  code: 'icc-inks',
  severity: 'error',
  kinds: ['media'],
  summary: 'The ICC profile is made for more inks than the printer has.',
  docs: `A profile of four inks (CMYK) or more (6CLR and so on) drives each ink by itself, so the printer must have as many. Fewer inks than the printer has are no fault: light inks, white and
clear are often driven by the printer, and one of RGB or grey leaves all inks to it. Take the profile that was made on this printer.`,
  check({ setup, report }) {
    const named = setup.colourFiles.icc
    const { icc, iccInks, inks } = colourOf(setup)
    if (!named || !icc || iccInks === undefined || inks === undefined || iccInks <= inks) return
    if (toldByBase(setup, named.field, setup.profile.printer)) return
    const names = setup.printer!.heads!.channels!.items.map((channel) => channel.value)
    report(
      named.field.place,
      `${quotedFile(String(named.field.value))} drives ${plural(iccInks, 'ink')} (${signatureText(icc.space)}), and ` +
        `${quoted(setup.profile.printer!.value)} has ${inks}: ${listed(names)}.`,
    )
  },
  examples: [
    {
      name: 'six inks on a printer of four',
      text: `printer: p\ncolour: {icc: $0film.icc$0}\n${FOUR_INKS}#- film.icc\nICC profile of class prtr, space 6CLR\n`,
      message: "'film.icc' drives 6 inks (6CLR), and 'p' has 4: cyan, magenta, yellow and black.",
    },
    {
      name: 'four inks on a printer of four',
      text: `printer: p\ncolour: {icc: film.icc}\n${FOUR_INKS}#- film.icc\nICC profile of class prtr, space CMYK\n`,
    },
    {
      name: 'the printer parts the inks itself',
      text: `printer: p\ncolour: {icc: film.icc}\n#- p.printer.yaml\nprinter: p\nheads: {channels: [black]}\n#- film.icc\nICC profile of class prtr, space RGB\n`,
      testOnly: true,
    },
  ],
})
