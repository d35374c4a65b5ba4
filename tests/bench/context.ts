// What every block of the benchmark is given.
import { loadavg } from 'node:os'
import type { Bundles } from './bundles.ts'
import type { Report } from './report.ts'

export interface Context {
  readonly made: Bundles
  /** One date for the whole run, so that a run across midnight measures one text. */
  readonly today: Date
  /** A folder that is removed in the end. */
  readonly temp: string
  /** A copy of the sample shop. */
  readonly shop: string
  readonly report: Report
  /** How often everything is measured: the table shows the median, and the least beside it. */
  readonly rounds: number
  /** With the rows that take many minutes. */
  readonly full: boolean
}

export interface Block {
  readonly name: string
  /** One line of help. */
  readonly about: string
  /** Only where it is named. */
  readonly onDemand?: boolean
  run(context: Context): Promise<void>
}

/** The same measurement once a round, one after the other. */
export async function inRounds<T>({ rounds }: Context, measure: () => Promise<T>): Promise<T[]> {
  const out: T[] = []
  for (let i = 0; i < rounds; i++) out.push(await measure())
  return out
}

/** Others may be at work on the machine. */
export const load = (): string => loadavg()[0]!.toFixed(1)
