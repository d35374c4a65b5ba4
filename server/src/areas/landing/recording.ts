// What a new alignment is printed on, and the inks that are picked: those of the printer, both ways where the mode prints both.
import { writtenText } from '../../model/setting.ts'
import { knownOr, type Recording } from '../recording.ts'
import { landingOf } from './facts.ts'

export const recordings: readonly Recording[] = [
  {
    kind: 'alignment',
    words: 'an alignment',
    entries: (setup) => {
      const { stock, printer } = setup
      const names = (printer?.heads?.channels?.items ?? []).map(({ value }) => value)
      if (names.length === 0) return []
      const thickness = stock?.thickness && writtenText(stock.thickness)
      const both = landingOf(setup).twoWay !== false
      return [{ parts: { thickness: knownOr(thickness, 'µm'), 'one-way': { names }, ...(both && { 'two-way': { names } }) } }]
    },
  },
]
