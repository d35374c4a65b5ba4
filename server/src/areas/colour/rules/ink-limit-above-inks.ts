// The ink limit is more than all inks together, so that it limits nothing.
import { signatureText } from '../../../model/icc.ts'
import { compareSi } from '../../../quantities/compare.ts'
import { formatSi } from '../../../quantities/format.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { plural, quoted, quotedFile } from '../../../rules/support/words.ts'
import { FOUR_INKS } from '../examples.ts'
import { colourOf } from '../facts.ts'

export const rule = defineRule({
  code: 'ink-limit-above-inks',
  severity: 'error',
  kinds: ['media'],
  summary: 'The ink limit is more than all inks come to.',
  docs: `One ink in full is 100 %, so four inks come to 400 % at most, and a limit above that lets everything through: the stock may be flooded, stay wet, cockle up to the heads or stick in the
roll. Look for a slipped digit, or a limit of another printer. What the stock takes is found by printing solids in steps, with the drying watched and the room aired; the machine's and
the ink's safety documents come first.`,
  check({ setup, report }) {
    const limit = setup.profile.colour?.['ink-limit']
    if (!limit) return
    const { icc, iccInks, inks } = colourOf(setup)
    const printer = inks ?? Number.POSITIVE_INFINITY
    const driven = iccInks ?? Number.POSITIVE_INFINITY
    const most = Math.min(printer, driven)
    // A limit of exactly all inks is written by whoever wants none.
    if (compareSi(limit.value.si, most, 'relative') <= 0) return
    const named = setup.colourFiles.icc
    const byIcc = driven < printer
    if (toldByBase(setup, limit, byIcc ? named?.field : setup.profile.printer)) return
    const of = byIcc
      ? `${plural(driven, 'ink')} (${signatureText(icc!.space)}) that ${quotedFile(String(named!.field.value))} drives`
      : `${plural(printer, 'ink')} of ${quoted(setup.profile.printer!.value)}`
    const text = formatSi(limit.value.si, 'relative', { unit: '%' })
    report(limit.place, `'ink-limit' is ${text}, and the ${of} come to ${most * 100} % in full: it limits nothing.`)
  },
  examples: [
    {
      name: 'more than four inks',
      text: `printer: p\ncolour: {ink-limit: $0440 %$0}\n${FOUR_INKS}`,
      message: "'ink-limit' is 440 %, and the 4 inks of 'p' come to 400 % in full: it limits nothing.",
    },
    {
      name: 'more than the ICC profile drives',
      text: `colour: {ink-limit: $0410 %$0, icc: film.icc}\n#- film.icc\nICC profile of class prtr, space CMYK\n`,
      message: "'ink-limit' is 410 %, and the 4 inks (CMYK) that 'film.icc' drives come to 400 % in full: it limits nothing.",
      testOnly: true,
    },
    { name: 'as much as four inks', text: `printer: p\ncolour: {ink-limit: 400 %}\n${FOUR_INKS}` },
    {
      name: 'a printer that does not name its inks',
      text: 'printer: p\ncolour: {ink-limit: 440 %}\n#- p.printer.yaml\nprinter: p\n',
      testOnly: true,
    },
  ],
})
