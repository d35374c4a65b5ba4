// A mode whose passes leave raster lines unprinted, or print some more often than others: told once, at the printer, or at the strikes that do it.
import type { AdvancePlan, Coverage } from '../../../calc/advance.ts'
import type { PrinterDocument } from '../../../model/generated/documents.ts'
import { plainNumber } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { listed } from '../../../rules/support/words.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { advanceIn, passesThatCover } from '../advance.ts'
import { throughputOf } from '../facts.ts'

export const rule = defineRule({
  code: 'mode-coverage',
  severity: 'hint',
  risk: 'look',
  kinds: ['printer', 'media'],
  summary: 'The passes of the mode do not print every raster line equally often.',
  docs: `The nozzles stand some raster lines apart, and the media moves the same number of lines after each pass. Unless the two have no common factor
and the nozzles are a whole number of advances, some lines are met by no nozzle and others by too many: fine light lines over the whole print. Many machines alternate
their advances or shut some nozzles off in such a mode, and then print what equal steps would miss: this is for whoever writes the printer down, who looks first whether
\`heads\` and the mode are right. A profile is told only of \`strikes\` that spoil a mode which is right without them (computed: elementary number theory, checked by simulation).`,
  check({ document, setup, report }) {
    if (setup && document.kind === 'media') {
      const { plan, strikes } = throughputOf(setup)
      const { mode, carriage } = setup.profile
      if (!plan.ok || !mode || !carriage?.strikes || plan.value.coverage.kind === 'every-line') return
      if (toldByBase(setup, mode, carriage.strikes)) return
      const single = advanceIn(setup.printer, setup.mode, 1)
      const byStrikes = single.ok && single.value.coverage.kind === 'every-line'
      if (byStrikes) report(carriage.strikes.place, told(`${mode.value} with ${strikes} strikes`, plan.value, strikes))
      return
    }
    const printer = document.content as PrinterDocument | undefined
    for (const [name, mode] of printer?.modes?.entries ?? []) {
      const plan = advanceIn(printer, mode, 1)
      if (plan.ok && plan.value.coverage.kind !== 'every-line') report(mode.passes!.place, told(name, plan.value, 1))
    }
  },
  examples: [
    {
      name: 'half of the lines',
      text: `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  half: {resolution: 720 x 720 dpi, passes: $08$0, carriage-speed: 1000 mm/s, directions: two-way}
`,
      message:
        'With equal steps, half leaves 50 % of the raster lines without a nozzle: its nozzles stand 2 lines apart and the media moves 90 lines a pass. 16 passes would print every line equally often.',
    },
    {
      name: 'a part of a line',
      text: `#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes:
  seven: {resolution: 720 x 360 dpi, passes: $07$0, carriage-speed: 1000 mm/s, directions: two-way}
`,
      message:
        'With equal steps, seven moves the media 51.43 raster lines a pass, and lines then fall between lines. 6 or 8 passes would print every line equally often.',
      testOnly: true,
    },
    {
      name: 'strikes that do not divide',
      text: `#- e.media.yaml
profile: e
printer: p
mode: standard
carriage: {strikes: $07$0}
${MACHINE}`,
      message:
        'With equal steps, standard with 7 strikes moves the media 6.429 raster lines a pass, and lines then fall between lines. With 336 of the 360 nozzles every line would be printed equally often.',
      testOnly: true,
    },
    {
      name: 'a profile in such a mode, which the printer tells',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: half
${MACHINE}${FILM}`,
    },
    {
      name: 'a nozzle pitch typed to a thousandth of a millimetre',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
carriage: {strikes: 1}
${MACHINE.replace('nozzle-pitch: 1/180 in', 'nozzle-pitch: 0.141 mm')}${FILM}`,
      testOnly: true,
    },
  ],
})

/** What is missed, and what would print every line. */
function told(name: string, plan: AdvancePlan, strikes: number): string {
  const { interlace, linesPerAdvance, swath, nozzlePitch, evenNozzles } = plan
  const better = passesThatCover(plan, strikes)
  const nozzles = Math.round(swath / nozzlePitch)
  const help =
    better.length > 0
      ? ` ${listed(better.map(String), 'or')} passes would print every line equally often.`
      : evenNozzles === undefined
        ? ''
        : ` With ${evenNozzles} of the ${nozzles} nozzles every line would be printed equally often.`
  return `${missed(name, plan.coverage, interlace, linesPerAdvance)}${help}`
}

function missed(name: string, found: Coverage, interlace: number, lines: number): string {
  const moves = `the media moves ${plainNumber(lines, 4)} line${lines === 1 ? '' : 's'} a pass`
  switch (found.kind) {
    case 'gaps':
      return `With equal steps, ${name} leaves ${plainNumber(found.missed * 100)} % of the raster lines without a nozzle: its nozzles stand ${interlace} lines apart and ${moves}.`
    case 'uneven':
      return `With equal steps, ${name} prints some raster lines with ${found.fewest} nozzles and others with ${found.most}: ${moves}, and the nozzles are no whole number of that.`
    case 'part-line':
      return `With equal steps, ${name} moves the media ${plainNumber(found.lines, 4)} raster lines a pass, and lines then fall between lines.`
    case 'off-grid':
      return `The nozzles stand ${plainNumber(found.interlace, 4)} raster lines of ${name} apart, so some of them print between the lines.`
    default:
      return ''
  }
}
