// The suction of a level, with a U-tube of water.
import { ok } from '../../base/outcome.ts'
import { waterColumn } from '../../calc/machine.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import { quantityOf, type Way } from './way.ts'

export const way: Way = {
  name: 'suction-pressure',
  into: 'suction.levels',
  title: 'The pressure of a suction level, with a U-tube of water',
  steps: [
    'Bend a clear hose into a U on a board, and fill it a third with water and a drop of ink. Hang it upright beside the machine, lower than the platen.',
    'Cover all holes of the platen with film, but for one; press the end of the hose on that one, tight.',
    'Set the level, wait until the water stands still, and read the difference between its two levels: not the rise of one of them, which is half.',
    'Read each level, going up and then down again. Where the two differ, the cover leaks.',
  ],
  cautions: [
    'Heaters cold, carriage parked and locked, before anybody reaches onto the platen: a bar stays hot long after it is switched off.',
    'Each arm must be longer than the difference will be, with as much to spare: else water is drawn into the blower and onto what is live. 1 kPa is 102 mm of water.',
    'Let nobody hang hose, sleeve or hair over a blower’s inlet, and take the hose off before the web is moved.',
    'Changes at the blower itself are for trained people with the machine locked off.',
  ],
  asks: [{ key: 'difference', what: 'between the two levels of the water', dimensions: ['length'] }],
  formula: 'pressure = 9.80665 Pa for each millimetre of difference',
  source: 'NIST SP 811, Appendix B.8: conventional millimetre of water; water at 20 °C is 0.18 % lighter',
  reckon(typed) {
    const difference = quantityOf(typed, 'difference')
    const pressure = waterColumn({ difference: difference.si, uncertainty: difference.uncertainty })
    if (!pressure.ok) return pressure
    const { value, uncertainty } = pressure.value
    const text = formatSi(value, 'pressure', { unit: 'Pa', ...(uncertainty === undefined ? { digits: 3 } : { uncertainty }) })
    return ok({
      steps: [`${formatQuantity(difference)} · 9.80665 Pa/mm = ${text}`],
      value: text,
      remarks: ['It is the suction with everything covered. A web that leaves holes open, or lets air through, is held by less.'],
    })
  },
}
