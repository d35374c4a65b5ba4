// Colour measurements that prove nothing of today's colours.
import type { AreaStale } from '../stale.ts'
import { colourDoubt } from './evidence.ts'

export const stale: AreaStale = (setup) =>
  (setup.own.colour?.measured?.items ?? []).flatMap(({ date }, index) => (colourDoubt(setup, { index }) ? [date] : []))
