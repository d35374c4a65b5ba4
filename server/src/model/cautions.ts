// What the shop itself warns of: at the machine, and of the stock. Whoever sends somebody there tells all of it.
import type { Setup } from './setup.ts'

export const cautionsOf = ({ printer, stock }: Pick<Setup, 'printer' | 'stock'>): readonly string[] =>
  [printer, stock].flatMap((one) => one?.cautions?.items.map(({ value }) => value) ?? [])
