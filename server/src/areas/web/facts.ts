// The web of a setup: how hard it is pulled, what that does to it, what it takes, how little keeps it from hanging, and what winding does to it.

import { type Outcome, ok, refuse } from '../../base/outcome.ts'
import { recorded } from '../../base/recorder.ts'
import { pullAgainstCurl, woundStrain } from '../../calc/curl.ts'
import { divideRanges, exactly, mapRange, type Range } from '../../calc/range.ts'
import { rollDiameter, rollLength, rollMass } from '../../calc/roll.ts'
import { leastTension, tensionAsRollEmpties, tensionGuard, webStress, windingTorque } from '../../calc/web.ts'
import type { F } from '../../model/field.ts'
import { levelName } from '../../model/level-names.ts'
import type { Property } from '../../model/material.ts'
import type { Setup } from '../../model/setup.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { bendingOf } from '../suction/facts.ts'
import { type Tension, tensionOf } from './tension.ts'

/** A tension level of the printer, N/m. */
export interface TensionLevel {
  readonly level: number
  /** What it is called: its name, or its number. */
  readonly name: string
  readonly tension: number
}

/** Why a tension cannot be set: no such level, a pull between the levels, a level where there are none, or beyond what the printer pulls. */
export type TensionMisfit = 'no-such-level' | 'between-levels' | 'no-levels' | 'too-little' | 'too-much'

/** The roll at the take-up, m. Its core and full roll are taken to be those the stock comes on. */
export interface TakeUp {
  readonly core: number
  readonly full: number
}

export interface WebFacts {
  /** N/m; undefined where nothing is set, or a level the printer does not have. */
  readonly tension: Tension | undefined
  readonly misfit: TensionMisfit | undefined
  /** By rising pull. */
  readonly levels: readonly TensionLevel[]
  readonly range: readonly [number, number] | undefined
  /** The web's resistance to stretching, N/m. */
  readonly stiffness: Property | undefined
  /** Pull over total thickness, Pa. */
  readonly stress: Outcome<number>
  /** A fraction. */
  readonly strain: Outcome<Range>
  /** The pull its material takes by trade tables, N/m: a ceiling. */
  readonly guard: Outcome<Range>
  /** The pull below which the free path would hang by more than a tenth of its length, N/m. */
  readonly least: Outcome<Range>
  /** The free path taken as one span, m. */
  readonly span: number | undefined
  /** Widest roll the shop buys that the bed takes, m. */
  readonly width: number | undefined
  readonly takeUp: Outcome<TakeUp>
  /** Torque of the take-up on the core and on the full roll, N m, at that width. */
  readonly torque: Outcome<TakeUp>
  /** Strain of the faces by winding, on the core and on the full roll, a fraction. */
  readonly faceStrain: Outcome<TakeUp>
  /** The pull that winding against the stock's own set takes on the core, N/m. */
  readonly againstSet: Outcome<Range>
  /** Metres on the stock's full roll by its diameters and thickness. */
  readonly metres: Outcome<number>
  readonly speedRange: readonly [number, number] | undefined
}

/** A web may hang by this part of its free path, a tenth, before it is slack rather than running (assumption; the deepest the formula holds for). */
export const SAG_PART = 10

const NO_TENSION = refuse('web.tension', 'the profile gives no web tension that the printer has')
const NO_WIDTH = refuse('widths', 'the stock gives no width that the bed takes')

/** The web facts of a setup, reckoned once. Never throws; what cannot be reckoned is a problem that names the key to fill in. */
export const webOf: (setup: Setup) => WebFacts = recorded('web', find)

function find(setup: Setup): WebFacts {
  const { printer, material } = setup
  const levels = levelsOf(setup)
  const range = rangeOf(printer?.web?.['tension-range']?.items)
  const tension = tensionOf(setup)
  const stiffness = material.stiffness()
  const takeUp = takeUpOf(setup)
  const width = widthOf(setup)
  return {
    tension,
    misfit: misfitOf(setup, levels, range),
    levels,
    range,
    stiffness,
    stress: stressOf(setup, tension),
    strain: strainAt(tension?.value, stiffness),
    guard: guardOf(setup),
    ...leastOf(setup),
    width,
    takeUp,
    torque: torqueOf(tension?.value, width, takeUp),
    faceStrain: faceStrainOf(setup, takeUp),
    againstSet: againstSetOf(setup, takeUp),
    metres: metresOf(setup),
    speedRange: rangeOf(printer?.web?.['speed-range']?.items),
  }
}

/** Strain under another pull, N/m. */
export function strainAt(tension: number | undefined, stiffness: Property | undefined): Outcome<Range> {
  if (tension === undefined) return NO_TENSION
  if (!stiffness) return refuse('modulus', 'the stock does not give its thickness with a modulus, layers or a family')
  return divideRanges(exactly(tension), stiffness.range, 'modulus')
}

function levelsOf({ printer }: Setup): TensionLevel[] {
  return [...(printer?.web?.['tension-levels']?.entries ?? [])]
    .map(([key, { value }]) => ({ level: Number(key), name: levelName(printer, 'web.tension', Number(key)), tension: value.si }))
    .filter(({ level, tension }) => Number.isInteger(level) && Number.isFinite(tension) && tension >= 0)
    .sort((a, b) => a.tension - b.tension)
}

function misfitOf(
  { profile, printer }: Setup,
  levels: readonly TensionLevel[],
  range: readonly [number, number] | undefined,
): TensionMisfit | undefined {
  const given = profile.web?.tension?.value
  if (given === undefined || !printer?.web) return undefined
  if (typeof given !== 'object') {
    if (levels.length === 0) return range ? 'no-levels' : undefined
    return levels.some(({ level }) => level === given) ? undefined : 'no-such-level'
  }
  const { si } = given
  if (range) return si < range[0] - nearly(range[0]) ? 'too-little' : si > range[1] + nearly(range[1]) ? 'too-much' : undefined
  if (levels.length === 0) return undefined
  return levels.some(({ tension }) => Math.abs(tension - si) <= nearly(tension)) ? undefined : 'between-levels'
}

/** What conversion of units may leave. */
const nearly = (value: number): number => 1e-6 * Math.max(1, Math.abs(value))

function stressOf({ material }: Setup, tension: Tension | undefined): Outcome<number> {
  if (!tension) return NO_TENSION
  const { thickness } = material
  if (thickness === undefined) return refuse('thickness', 'the stock does not give its thickness')
  return webStress({ tension: tension.value, thickness })
}

function guardOf({ material, stock }: Setup): Outcome<Range> {
  const guard = material.property('tension-guard')
  const { thickness } = material
  if (!stock?.family || !guard) return refuse('family', 'the stock gives no family with a known limit of pull')
  if (thickness === undefined) return refuse('thickness', 'the stock does not give its thickness')
  return tensionGuard({ thickness, guardStress: guard.range })
}

function leastOf({ material, printer }: Setup): Pick<WebFacts, 'least' | 'span'> {
  const span = printer?.drying?.['path-to-winding']?.value.si
  if (span === undefined)
    return { span, least: refuse('drying.path-to-winding', 'the printer does not give drying.path-to-winding') }
  const grammage = material.grammage()
  if (!grammage) return { span, least: refuse('grammage', 'the stock gives no grammage') }
  const typical = leastTension({ grammage: grammage.range.typical, span, sag: span / SAG_PART })
  if (!typical.ok) return { span, least: typical }
  const per = typical.value / grammage.range.typical
  return { span, least: ok(mapRange(grammage.range, (g) => g * per)) }
}

function widthOf({ stock, printer }: Setup): number | undefined {
  const bed = printer?.carriage?.['bed-width']?.value.si ?? Number.POSITIVE_INFINITY
  const widths = stock?.widths?.items.map((width) => width.value.si).filter((width) => width <= bed) ?? []
  return widths.length > 0 ? Math.max(...widths) : undefined
}

function takeUpOf({ stock, material }: Setup): Outcome<TakeUp> {
  const { core, outside, length } = stock?.roll ?? {}
  if (!core) return refuse('roll.core', 'the stock does not give the core of its roll')
  if (outside) {
    if (outside.value.si <= core.value.si) return refuse('roll.outside', 'the roll of the stock is no thicker than its core')
    return ok({ core: core.value.si, full: outside.value.si })
  }
  if (!length || material.thickness === undefined)
    return refuse('roll.outside', 'the stock gives neither the diameter of its full roll nor its length and thickness')
  const full = rollDiameter({ length: length.value.si, coreDiameter: core.value.si, thickness: material.thickness })
  return full.ok ? ok({ core: core.value.si, full: full.value }) : full
}

function torqueOf(tension: number | undefined, width: number | undefined, takeUp: Outcome<TakeUp>): Outcome<TakeUp> {
  if (tension === undefined) return NO_TENSION
  if (width === undefined) return NO_WIDTH
  return both(takeUp, (diameter) => windingTorque({ tension, width, diameter }))
}

function faceStrainOf({ material }: Setup, takeUp: Outcome<TakeUp>): Outcome<TakeUp> {
  const { thickness } = material
  if (thickness === undefined) return refuse('thickness', 'the stock does not give its thickness')
  return both(takeUp, (diameter) => woundStrain({ thickness, diameter }))
}

function both(takeUp: Outcome<TakeUp>, f: (diameter: number) => Outcome<number>): Outcome<TakeUp> {
  if (!takeUp.ok) return takeUp
  const core = f(takeUp.value.core)
  if (!core.ok) return core
  const full = f(takeUp.value.full)
  return full.ok ? ok({ core: core.value, full: full.value }) : full
}

function againstSetOf({ material }: Setup, takeUp: Outcome<TakeUp>): Outcome<Range> {
  if (!takeUp.ok) return takeUp
  const { thickness } = material
  const modulus = bendingOf(material) ?? material.property('modulus')?.range
  const poisson = material.property('poisson')?.range
  const curlRadius = material.property('curl-radius')?.range
  if (thickness === undefined || !modulus || !poisson || !curlRadius)
    return refuse('curl-radius', 'the stock does not give all of thickness, modulus and curl radius')
  return pullAgainstCurl({ modulus, thickness, poisson, diameter: takeUp.value.core, curlRadius })
}

function metresOf({ stock, material }: Setup): Outcome<number> {
  const { core, outside } = stock?.roll ?? {}
  if (!core || !outside) return refuse('roll', 'the stock does not give core and outside diameter of its roll')
  if (material.thickness === undefined) return refuse('thickness', 'the stock does not give its thickness')
  return rollLength({ outsideDiameter: outside.value.si, coreDiameter: core.value.si, thickness: material.thickness })
}

/** The pull at the core under the brake that gives the pull set on the full roll, N/m. */
export function emptyingOf({ tension, takeUp }: WebFacts): Outcome<number> {
  if (!tension) return NO_TENSION
  if (!takeUp.ok) return takeUp
  const { core, full } = takeUp.value
  return tensionAsRollEmpties({ tension: tension.value, setAtDiameter: full, diameter: core })
}

/** What the widest full roll that fits the bed weighs without its core, kg: by its length, or by its diameters where that is not given. */
export function massOf({ stock, material }: Setup, { width, metres }: WebFacts): Outcome<Range> {
  const grammage = material.grammage()
  if (!grammage) return refuse('grammage', 'the stock gives no grammage')
  if (width === undefined) return NO_WIDTH
  const length = stock?.roll?.length?.value.si ?? (metres.ok ? metres.value : undefined)
  if (length === undefined) return refuse('roll.length', 'the stock gives neither the length of its roll nor its diameters')
  const { typical } = grammage.range
  const mass = rollMass({ grammage: typical, width, length })
  return mass.ok ? ok(mapRange(grammage.range, (g) => (g / typical) * mass.value)) : mass
}

function rangeOf(items: readonly F<Quantity>[] | undefined): readonly [number, number] | undefined {
  const [low, high] = items ?? []
  return low && high && low.value.si <= high.value.si ? [low.value.si, high.value.si] : undefined
}
