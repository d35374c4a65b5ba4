// Room on the sheet to write the next readings by hand, in the order in which they are typed: length checks, picks of the alignment, temperatures of the web.
import { heatOf } from '../../areas/heat/facts.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'

export interface SheetForm {
  /** The evidence that its rows are: 'feed.checks'. */
  readonly kind: string
  readonly title: string
  readonly columns: readonly string[]
  /** The first cell of each row, printed; the others are empty. How many are left out where room is short is the paper's affair: one stays at least. */
  readonly rows: readonly string[]
}

/** Empty rows for length checks where there is room. */
const MOST_CHECKS = 4

export function formsOf(setup: Setup): readonly SheetForm[] {
  const { printer, profile, own, mode } = setup
  const lengths = printer?.feed?.['pattern-lengths']?.items.map(writtenText) ?? []
  const channels = printer?.heads?.channels?.items.map(({ value }) => String(value)) ?? []
  const fine = printer?.feed?.fine?.rows?.items.map(({ value }) => String(value)) ?? []
  const zones = heatOf(setup).zones.map(({ zone }) => zone)
  const oneWay = mode?.directions?.value === 'one-way'
  return [
    {
      kind: 'feed.checks',
      title: `Length, printed${lengths.length > 0 ? ` ${lengths.join(', ')}` : ''}`,
      columns: ['date', 'pattern', 'measured', 'keyed in then', 'measured with', 'web, °C/°F', 'lot', 'by'],
      rows: Array.from({ length: MOST_CHECKS }, () => ''),
    },
    ...(fine.length > 0
      ? [{ kind: 'feed.fine', title: 'Fine feed, best patch', columns: ['date', 'keyed in then', ...fine, 'by'], rows: [''] }]
      : []),
    ...(channels.length > 0 && (printer?.alignment || own.alignment)
      ? [
          {
            kind: 'alignment',
            title: `Alignment, best patch${profile.mode ? ` in ${profile.mode.value}` : ''}`,
            columns: ['', 'date', ...channels, 'by'],
            rows: oneWay ? ['one way'] : ['one way', 'both ways'],
          },
        ]
      : []),
    ...(zones.length > 0
      ? [
          {
            kind: 'heat.readings',
            title: 'Web, read while it runs, from a safe place',
            columns: ['date', ...zones.flatMap((zone) => [`${zone}: set`, `${zone}: web`]), 'by'],
            rows: [''],
          },
        ]
      : []),
  ]
}
