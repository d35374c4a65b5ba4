// The readings of the web's temperature: which are of this stock and printer, under which settings they were made, and which are reckoned with.
import { daysBetween } from '../../model/dates.ts'
import { differencesIn, differenceText, openedBy, otherPairing, stateOf } from '../../model/evidence-state.ts'
import type { HeatReading, State } from '../../model/generated/documents.ts'
import type { Setup } from '../../model/setup.ts'
import { underState } from '../../model/states.ts'
import { throughputOf } from '../advance/facts.ts'

export const ZONES = ['before', 'platen', 'after'] as const
export type ZoneName = (typeof ZONES)[number]

/** K by which a heater may be set otherwise than at a reading and still be set the same. */
export const SAME_SETTING = 0.5

/** One reading of the web's temperature with all its numbers, made on or before today on this stock and printer. */
export interface FullReading {
  readonly reading: HeatReading
  readonly index: number
  readonly zone: ZoneName
  /** degC */
  readonly set: number
  readonly web: number
  /** Days before today; undefined without a date. */
  readonly age: number | undefined
  /** Why nothing is proven by it, behind "it was"; undefined where it speaks for settings that are known, on the machine as it is. */
  readonly doubt: string | undefined
  /** m/s of the web then, where it was not as today; undefined where it was. */
  readonly webSpeed: number | undefined
}

/** The readings that can be reckoned with, in the order they stand. Those dated after today are left out, and those of another stock or printer. */
export function fullReadings(setup: Setup): readonly FullReading[] {
  return (setup.own.heat?.readings?.items ?? []).flatMap((reading, index) => {
    const { zone, set, web, date, under } = reading
    // The day is asked for where there is a reading to be aged, so that all else of heat is the same on every day.
    const age = date && daysBetween(date.value, setup.today)
    if (!zone || !set || !web || (age !== undefined && !(age >= 0))) return []
    const state = stateOf(setup, under)
    if (state.ok && otherPairing(setup, state.value) !== undefined) return []
    const full = { reading, index, zone: zone.value, set: set.value.si, web: web.value.si, age }
    const doubt = state.ok ? openedBy(setup, 'heat', date) : state.problem.reason
    if (doubt !== undefined || !state.ok) return [{ ...full, doubt, webSpeed: undefined }]
    return [{ ...full, ...speedThen(setup, state.value) }]
  })
}

/** What decides how long the web is over a heater. */
const RESTS_ON: ReadonlySet<string> = new Set(['mode', 'web.speed', 'drying.pause'])

function speedThen(setup: Setup, state: State): Pick<FullReading, 'doubt' | 'webSpeed'> {
  const differences = differencesIn(setup, state, RESTS_ON)
  const lacking = differences.find(({ kind }) => kind !== 'differs')
  if (lacking) return { doubt: differenceText(lacking), webSpeed: undefined }
  if (differences.length === 0) return { doubt: undefined, webSpeed: undefined }
  const { pass } = throughputOf(underState(setup, state))
  if (!pass.ok) return { doubt: `made at a speed of the web that cannot be told: ${pass.problem.reason}`, webSpeed: undefined }
  const today = throughputOf(setup).pass
  const same = today.ok && Math.abs(pass.value.webSpeed / today.value.webSpeed - 1) < 1e-6
  return { doubt: undefined, webSpeed: same ? undefined : pass.value.webSpeed }
}

/** Those that a zone is reckoned with: what proves nothing is the number to expect only where nothing else was read. */
export function used(readings: readonly FullReading[]): readonly FullReading[] {
  const sound = readings.filter(({ doubt }) => doubt === undefined)
  return sound.length > 0 ? sound : readings
}
