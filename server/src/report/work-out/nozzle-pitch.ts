// Nozzle pitch from a nozzle print.
import { ok } from '../../base/outcome.ts'
import { nozzlePitch } from '../../calc/machine.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import { quantityOf, type Way } from './way.ts'

/** m; an inch is 25.4 mm by definition (NIST SP 811). */
const INCH = 0.0254

export const way: Way = {
  name: 'nozzle-pitch',
  into: 'heads.nozzle-pitch',
  title: 'The distance of two nozzles, from a nozzle print',
  steps: [
    'Print the nozzle test on a stiff, smooth stock that does not stretch, with the web at rest: every nozzle draws a line of its own.',
    'Take one ink, and of it one row. Count its lines, those of nozzles that are missing too.',
    'Measure along the feed, from the middle of the first line to the middle of the last, with the best rule there is: the longer, the better.',
    'Do it at both ends of the carriage’s way. Where the two differ by more than you can read, the head stands askew or the web moved: put that right first.',
  ],
  cautions: [
    'Take the print off the machine to measure it. The carriage starts without warning: nothing is measured under it.',
    'Fresh ink marks and harms the skin: let it dry, or wear gloves.',
  ],
  asks: [
    { key: 'length', what: 'from the middle of the first line to the middle of the last', dimensions: ['length'] },
    { key: 'lines', what: 'how many lines that are', dimensions: [] },
  ],
  formula: 'pitch = length / (lines − 1): so many lines have one space less between them',
  source: 'counting; an inch is 25.4 mm (NIST SP 811)',
  reckon(typed) {
    const length = quantityOf(typed, 'length')
    const lines = typed.get('lines')![0]![0] as number
    const pitch = nozzlePitch({ length: length.si, lines, uncertainty: length.uncertainty })
    if (!pitch.ok) return pitch
    const { value, uncertainty } = pitch.value
    const text = formatSi(value, 'length', { unit: 'mm', ...(uncertainty === undefined ? { digits: 5 } : { uncertainty }) })
    const perInch = INCH / value
    const whole = Math.round(perInch)
    const spread = uncertainty === undefined ? undefined : (perInch * uncertainty) / value
    const near = spread !== undefined && Math.abs(perInch - whole) <= spread
    return ok({
      steps: [
        `${formatQuantity(length)} / (${lines} − 1) = ${text}`,
        `25.4 mm / ${text} = ${perInch.toFixed(2)}${spread === undefined ? '' : ` ±${spread.toFixed(2)}`} nozzles to the inch`,
      ],
      value: text,
      remarks: [
        near
          ? `Heads are mostly made to a whole number of nozzles to the inch (common practice), and ${whole} is within what was measured: if the data sheet says so, write 1/${whole} in.`
          : 'Heads are mostly made to a whole number of nozzles to the inch (common practice): compare the data sheet.',
      ],
    })
  },
}
