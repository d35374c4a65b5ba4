// What a history says of a scatter, as a document states it and as a person reads it.
import type { StatedScatter } from '../../calc/scatter-nodes.ts'
import type { Repeatability } from '../../model/generated/documents.ts'
import { formatSi } from '../../quantities/format.ts'
import type { History } from './history.ts'

/** Fewer degrees of freedom than these are no history to write down. */
const LEAST_FREEDOM = 2

/** What may be stated of a scatter by its history; undefined where that says too little. */
export const statementOf = ({ scatter }: History): StatedScatter | undefined =>
  scatter.stated && scatter.stated.freedom >= LEAST_FREEDOM ? scatter.stated : undefined

/** A scatter with two digits: more nobody knows of one. */
export const scatterText = (value: number): string => formatSi(value, 'relative', { unit: '%', digits: 2 })

/** "{ value: 0.012 %, freedom: 4, date: 2026-11-25 }" */
export const statementText = ({ value, freedom }: StatedScatter, today: string): string =>
  `{ value: ${scatterText(value)}, freedom: ${freedom}, date: ${today} }`

/** "0.006 to 0.02 %", the 95 % interval. */
export const rangeText = ({ scatter: { low, high } }: History): string =>
  `${scatterText(low).replace(/ %$/, '')} to ${scatterText(high)}`

/** Whether what a document states lies outside what its history leaves, at 95 %. */
export const contradicts = ({ scatter: { low, high } }: History, stated: Pick<Repeatability, 'value'>): boolean =>
  stated.value !== undefined && (stated.value.value.si < low || stated.value.value.si > high)
