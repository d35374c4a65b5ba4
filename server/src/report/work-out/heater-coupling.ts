// The coupling between a heater and the web, from readings of the web at two settings.
import { ok } from '../../base/outcome.ts'
import { fitCoupling, READING_UNCERTAINTY } from '../../calc/coupling.ts'
import { AIR_LOSS, HEAT_CAUTION } from '../../calc/heat.ts'
import { formatQuantity, formatSi } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { quantityOf, type Way } from './way.ts'

export const way: Way = {
  name: 'heater-coupling',
  into: 'heaters.*.coupling',
  title: 'How well a heater’s heat passes into the web, from two readings',
  steps: [
    'Load a thin stock that is not shiny, or stick a strip of matt tape along its edge: a thermometer without contact reads shiny film, bare metal and clear film wrong.',
    'Set the heater, let it settle for ten minutes, and run the web as in production.',
    'Read the web where it leaves this heater, from outside the guards, and the air beside the machine. Note what was set.',
    'Set it at least ten degrees otherwise, within what the stock takes, let it settle, and read again.',
  ],
  cautions: [
    HEAT_CAUTION,
    'Read a moving web without touching it, from outside the guards: rollers and take-up draw in fingers, sleeves and probes. Where a probe must touch, stop the machine.',
    'Never stop the web over a hot bar to read it for longer: film shrinks and melts there.',
  ],
  asks: [
    {
      key: 'reading',
      what: 'what was set, a comma, and what the web read; once for each reading',
      dimensions: ['temperature', 'temperature'],
      several: true,
    },
    { key: 'air', what: 'the air beside the machine', dimensions: ['temperature'] },
  ],
  formula:
    'share = (web − air) / (set − air), by least squares over the readings; coupling = loss to the air · share / (1 − share)',
  source: `steady heat balance of a web (Incropera); loss to the air ${AIR_LOSS.low} to ${AIR_LOSS.high} W/m²K, from memory`,
  reckon(typed) {
    const air = quantityOf(typed, 'air')
    const pairs = typed.get('reading')! as readonly (readonly [Quantity, Quantity])[]
    const readings = pairs.map(([set, web]) => ({ zone: 'zone', set: set.si, web: web.si }))
    const fitted = fitCoupling({ readings, air: air.si, airLoss: AIR_LOSS })
    if (!fitted.ok) return fitted
    const { coupling, share, open } = fitted.value
    const text = formatSi(coupling.typical, 'coupling', { digits: 2 })
    const ends = [coupling.low, coupling.high].map((end) => formatSi(end, 'coupling', { digits: 2 }))
    const percent = (x: number): string => `${(100 * x).toFixed(0)} %`
    return ok({
      steps: [
        ...pairs.map(([set, web]) => {
          const one = (web.si - air.si) / (set.si - air.si)
          return `(${formatQuantity(web)} − ${formatQuantity(air)}) / (${formatQuantity(set)} − ${formatQuantity(air)}) = ${percent(one)}`
        }),
        `together ${percent(share.typical)} of the heater’s rise above the air, ${percent(share.low)} to ${percent(share.high)} with a thermometer that may be wrong by ${READING_UNCERTAINTY} K (common practice)`,
        `loss ${AIR_LOSS.typical} W/m²K · ${percent(share.typical)} / (100 % − ${percent(share.typical)}) = ${text}, from ${ends[0]} to ${ends[1]}`,
      ],
      value: text,
      remarks: [
        'A thick or a quick web is still warming where it leaves the heater: then this comes out too low. Read it once more at half the speed; where it reads warmer, take that.',
        'It is no better known than the loss to the air. What it is for, the web’s temperature at other settings, is as good as the readings.',
        ...(open
          ? ['The readings agree with perfect contact too, so the upper end is only the most that still air allows.']
          : []),
        ...(pairs.length < 2 ? ['One reading tells nothing of how well it repeats: make another at another setting.'] : []),
        'Readings that stand in a profile, under heat.readings with the state of the machine, are reckoned with directly and win over this number.',
      ],
    })
  },
}
