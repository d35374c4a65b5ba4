// A mode whose passes leave raster lines unprinted, or print some more often than others.
import { type Coverage, coverage } from '../calc/advance.ts'
import { plainNumber } from '../model/shown.ts'
import { passesThatCover, throughputOf } from '../model/throughput.ts'
import { defineRule } from './rule.ts'
import { FILM, MACHINE } from './support/machine-example.ts'
import { toldByBase } from './support/told-by-base.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'mode-coverage',
  severity: 'warning',
  kinds: ['media'],
  summary: 'The passes of the mode do not print every raster line equally often.',
  docs: `The nozzles stand some raster lines apart, and the media moves the same number of lines after each pass. Unless the two have no common factor
and the nozzles are a whole number of advances, some lines are met by no nozzle and others by too many: fine light lines over the whole print. Look first whether
\`heads\` and the mode are written down right, in the printer's document. Ignore it for a machine that is known to alternate its advances or to shut some nozzles
off in this mode, for it then prints what equal steps would miss (computed: elementary number theory, checked by simulation).`,
  check({ setup, report }) {
    const { plan, strikes } = throughputOf(setup)
    const { mode, carriage } = setup.profile
    if (!plan.ok || !mode || plan.value.coverage.kind === 'every-line' || toldByBase(setup, mode, carriage?.strikes)) return
    const { interlace, linesPerAdvance, swath, nozzlePitch, evenNozzles } = plan.value
    const nozzles = Math.round(swath / nozzlePitch)
    const single = coverage({ nozzles, interlace, linesPerAdvance: linesPerAdvance * strikes })
    const byStrikes = strikes > 1 && single.ok && single.value.kind === 'every-line'
    const name = byStrikes ? `${mode.value} with ${strikes} strikes` : mode.value
    const better = passesThatCover(setup)
    const help = [
      better.length > 0 && `${listed(better.map(String), 'or')} passes would print every line equally often.`,
      better.length === 0 &&
        evenNozzles !== undefined &&
        `With ${evenNozzles} of the ${nozzles} nozzles every line would be printed equally often.`,
    ].filter((t) => typeof t === 'string')
    const at = (byStrikes && carriage?.strikes?.place) || mode.place
    report(at, [`${missed(name, plan.value.coverage, interlace, linesPerAdvance)}`, ...help].join(' '))
  },
  examples: [
    {
      name: 'half of the lines',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: $0half$0
${MACHINE}${FILM}`,
      message:
        'With equal steps, half leaves 50 % of the raster lines without a nozzle: its nozzles stand 2 lines apart and the media moves 90 lines a pass. 16 passes would print every line equally often.',
    },
    {
      name: 'a part of a line',
      text: `#- e.media.yaml
profile: e
printer: p
mode: $0seven$0
${MACHINE}`,
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
      name: 'every line',
      text: `#- e.media.yaml
profile: e
printer: p
mode: standard
${MACHINE}`,
    },
  ],
})

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
