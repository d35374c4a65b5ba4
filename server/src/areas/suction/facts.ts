// The suction of a setup: what is set in pascals, what every level of the printer would hold, drag, stretch and dimple, and what is wrong with
// the one that is set.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { bendingModulus } from '../../calc/laminate.ts'
import { mapRange, type Range } from '../../calc/range.ts'
import { feedChange, holdingShare, pressureToFlatten } from '../../calc/suction.ts'
import { type SuctionCase, type SuctionRow, type SuctionWindow, suctionWindow } from '../../calc/suction-window.ts'
import { familyOf } from '../../model/families.ts'
import type { PrinterDocument } from '../../model/generated/documents.ts'
import { levelName } from '../../model/level-names.ts'
import type { Material } from '../../model/material.ts'
import type { Setup } from '../../model/setup.ts'
import { LEAST_FLIGHT } from '../landing/facts.ts'

/** A suction that can be set: a level of the printer, or a pressure where it has none. Pressure in Pa. */
export interface SuctionStep {
  readonly level: number | undefined
  /** What the level is called: its name, or its number. */
  readonly name?: string
  readonly pressure: number
}

/** Why what is given cannot be set: the printer has levels and not this one, levels and no pressures, pressures and no levels. */
export type SuctionMisfit = 'no-such-level' | 'between-levels' | 'no-levels'

/** The one thing worth saying of the suction that is set, the gravest first. */
export type SuctionTrouble = 'strikes' | 'too-weak' | 'lifts' | 'no-window' | 'may-not-hold' | 'stretch' | 'dimples'

export interface SuctionFacts {
  /** Undefined where nothing is set, or nothing the printer has. */
  readonly set: SuctionStep | undefined
  readonly misfit: SuctionMisfit | undefined
  /** By rising pressure; empty where the printer is set by pressure. */
  readonly levels: readonly SuctionStep[]
  /** Stock whose weave lets the air through: drag and stretch cannot be reckoned. */
  readonly airy: boolean
  /** How far an edge may stand before it shows or touches, m, and why. */
  readonly riseLimit: RiseLimit
  /** Height left between the web and the heads, m. */
  readonly clearance: number | undefined
  /** All levels; for a printer without, half the pressure, the pressure and twice the pressure. */
  readonly window: Outcome<SuctionWindow<SuctionStep>>
  /** The row of what is set. */
  readonly current: SuctionRow<SuctionStep> | undefined
  /** The rows beside it. */
  readonly down: SuctionRow<SuctionStep> | undefined
  readonly up: SuctionRow<SuctionStep> | undefined
  readonly trouble: SuctionTrouble | undefined
  /** What the suction acts on. */
  readonly web: Outcome<SuctionWeb>
}

export interface RiseLimit {
  readonly value: number
  readonly from: 'landing' | 'clearance' | 'assumed'
}

/** Depth at which a dent of a suction hole begins to show on a smooth face, m (from memory). */
export const DIMPLE_SHOWS: Range = { low: 5e-6, typical: 10e-6, high: 20e-6 }
/** Rise of an edge taken as too much where neither the landing of drops nor the gap says, m (from memory). */
const RISE_ASSUMED = 0.3e-3
/** Families that let air through. */
const AIRY: ReadonlySet<string> = new Set(['textile-woven', 'textile-knit'])

/** The suction facts of a setup, reckoned once. Never throws; what cannot be reckoned is a problem that names the key to fill in. */
export const suctionOf: (setup: Setup) => SuctionFacts = recorded('suction', find)

function find(setup: Setup): SuctionFacts {
  const levels = levelsOf(setup)
  const { set, misfit } = settingOf(setup, levels)
  const airy = setup.stock?.family !== undefined && AIRY.has(setup.stock.family.value)
  const clearance = clearanceOf(setup)
  const riseLimit = riseLimitOf(setup, clearance)
  const steps = levels.length > 0 ? levels : aroundPressure(set)
  const web = webOf(setup, airy)
  const window = web.ok ? judge(setup, web.value, steps, riseLimit.value) : web
  const rows = window.ok ? window.value.rows : []
  const at = set ? rows.findIndex((row) => row.level === set) : -1
  const current = rows[at]
  const facts = {
    set,
    misfit,
    levels,
    airy,
    riseLimit,
    clearance,
    window,
    current,
    down: rows[at - 1],
    up: at < 0 ? undefined : rows[at + 1],
  }
  return { ...facts, web, trouble: troubleOf(setup, facts) }
}

/** The printer's levels, by rising pressure. */
const levelsOf = recorded('suction levels', ({ printer }: Setup): readonly SuctionStep[] => (printer ? readLevels(printer) : []))

function readLevels(printer: PrinterDocument): readonly SuctionStep[] {
  return [...(printer.suction?.levels?.entries ?? [])]
    .map(([key, pressure]) => ({
      level: Number(key),
      name: levelName(printer, 'suction', Number(key)),
      pressure: pressure.value.si,
    }))
    .filter(({ level, pressure }) => Number.isInteger(level) && pressure >= 0 && Number.isFinite(pressure))
    .sort((a, b) => a.pressure - b.pressure)
}

function settingOf({ profile, printer }: Setup, levels: readonly SuctionStep[]): Pick<SuctionFacts, 'set' | 'misfit'> {
  const given = profile.suction?.value
  if (given === undefined) return { set: undefined, misfit: undefined }
  if (typeof given !== 'object') {
    const set = levels.find(({ level }) => level === given)
    const misfit = set ? undefined : levels.length > 0 ? 'no-such-level' : printer?.suction ? 'no-levels' : undefined
    return { set, misfit }
  }
  if (levels.length === 0) return { set: { level: undefined, pressure: given.si }, misfit: undefined }
  const set = levels.find(({ pressure }) => Math.abs(pressure - given.si) <= 1e-6 * Math.max(1, pressure))
  return { set, misfit: set ? undefined : 'between-levels' }
}

const aroundPressure = (set: SuctionStep | undefined): readonly SuctionStep[] =>
  set === undefined
    ? []
    : set.pressure === 0
      ? [set]
      : [{ level: undefined, pressure: set.pressure / 2 }, set, { level: undefined, pressure: set.pressure * 2 }]

function clearanceOf({ profile, material }: Setup): number | undefined {
  const gap = profile.gap?.value.si
  const { thickness } = material
  return gap === undefined || thickness === undefined || gap <= thickness ? undefined : gap - thickness
}

/** An edge that stands up lets drops land early: by rise x carriage speed / drop speed, and twice that between the two directions. */
function riseLimitOf({ printer, mode, shop }: Setup, clearance: number | undefined): RiseLimit {
  const carriage = mode?.['carriage-speed']?.value.si
  const drop = printer?.heads?.['drop-speed']?.value.si
  const directions = mode?.directions?.value === 'one-way' ? 1 : 2
  const landing = carriage && drop ? (shop.tolerance.registration.value * drop) / carriage / directions : undefined
  const limit: RiseLimit = landing && landing > 0 ? { value: landing, from: 'landing' } : { value: RISE_ASSUMED, from: 'assumed' }
  return clearance !== undefined && clearance < limit.value ? { value: clearance, from: 'clearance' } : limit
}

export type SuctionWeb = Omit<SuctionCase<SuctionStep>, 'levels' | 'limits'>

function webOf({ printer, material, stock, profile }: Setup, airy: boolean): Outcome<SuctionWeb> {
  if (!profile.stock) return refuse('stock', 'the profile names no stock')
  if (!profile.printer) return refuse('printer', 'the profile names no printer')
  if (!stock) return refuse('stock', `there is no stock ${profile.stock.value}`)
  if (!printer) return refuse('printer', `there is no printer ${profile.printer.value}`)
  if (airy) return refuse('stock', 'air goes through cloth, so its drag and stretch cannot be reckoned: watch it, and measure')
  const { depth, hole, 'open-area': open } = printer.suction ?? {}
  if (!depth || !hole || !open) {
    const missing = !depth ? 'suction.depth' : !hole ? 'suction.hole' : 'suction.open-area'
    return refuse(missing, `the printer does not give ${missing}`)
  }
  const { thickness } = material
  if (thickness === undefined) return refuse('thickness', 'the stock does not give its thickness')
  const stiffness = material.stiffness()?.range
  const friction = material.property('friction')?.range
  const poisson = material.property('poisson')?.range
  const curlRadius = material.property('curl-radius')?.range
  if (!stiffness || !friction || !poisson || !curlRadius) {
    const missing = !stiffness ? 'modulus' : !friction ? 'friction' : !poisson ? 'poisson' : 'curl-radius'
    return refuse(missing, `the stock gives neither its ${missing} nor a family that has a typical one`)
  }
  return ok({
    friction,
    depth: depth.value.si,
    modulus: mapRange(stiffness, (s) => s / thickness),
    bendingModulus: bendingOf(material),
    thickness,
    poisson,
    curlRadius,
    openArea: open.value.si,
    holeDiameter: hole.value.si,
  })
}

/** Layers bend by what they are; a stock that gives its own modulus is taken as one sheet. */
export function bendingOf(material: Material): Range | undefined {
  const layers = material.stock?.layers?.items ?? []
  if (layers.length === 0 || material.stock?.modulus) return undefined
  const bent = bendingModulus(
    layers.map((layer) => ({
      modulus: (layer.family && familyOf(layer.family.value)?.property('modulus')?.range) ?? Number.NaN,
      thickness: layer.thickness?.value.si ?? Number.NaN,
    })),
  )
  return bent.ok ? bent.value : undefined
}

function judge(setup: Setup, web: SuctionWeb, steps: readonly SuctionStep[], rise: number): Outcome<SuctionWindow<SuctionStep>> {
  if (steps.length === 0) return refuse('suction', 'the profile gives no suction, and the printer no levels')
  const limits = { strain: setup.shop.tolerance.length.value, dimple: DIMPLE_SHOWS.typical, rise }
  return suctionWindow({ ...web, levels: steps.map((step) => ({ level: step, pressure: step.pressure })), limits })
}

/** What setting another pressure (Pa) does to the stretch of the web, a fraction: above zero, prints come out shorter. */
export function suctionChange({ web }: SuctionFacts, fromPressure: number, toPressure: number): Outcome<Range> {
  if (!web.ok) return web
  const share = holdingShare(web.value)
  return share.ok ? feedChange({ ...web.value, share: share.value, fromPressure, toPressure }) : share
}

/** The suction that lays the curl down to the rise allowed, Pa, whether the printer has it or not. */
export function suctionNeeded({ web, riseLimit }: SuctionFacts): Outcome<Range> {
  if (!web.ok) return web
  const share = holdingShare(web.value)
  if (!share.ok) return share
  const { bendingModulus, modulus } = web.value
  return pressureToFlatten({ ...web.value, modulus: bendingModulus ?? modulus, share: share.value, rise: riseLimit.value })
}

function troubleOf(
  { stock, material }: Setup,
  facts: Pick<SuctionFacts, 'current' | 'clearance' | 'window' | 'levels' | 'riseLimit'>,
): SuctionTrouble | undefined {
  const { current: row, clearance, window, riseLimit } = facts
  if (!row || !window.ok) return undefined
  const { rise } = row.curl
  // A curl that nobody measured may be anything: it decides nothing but what is certain.
  const curlKnown = material.property('curl-radius')?.origin === 'given'
  const liftsEdges = stock?.wound?.value === 'in' && clearance !== undefined
  // Heads first: what blurs a print is told only once nothing is left that may touch them.
  if (liftsEdges && rise.low >= clearance) return 'strikes'
  if (liftsEdges && curlKnown && rise.typical > clearance - LEAST_FLIGHT) return 'lifts'
  if (rise.low > riseLimit.value) return 'too-weak'
  if (row.verdict === 'holds') return undefined
  if (row.faults.includes('curl') && !curlKnown) return undefined
  if (row.verdict === 'unfit' || (facts.levels.length > 0 && !window.value.window)) return 'no-window'
  if (row.faults.includes('curl')) return 'may-not-hold'
  if (row.faults.includes('stretch')) return 'stretch'
  return row.dimple.low > DIMPLE_SHOWS.high ? 'dimples' : undefined
}
