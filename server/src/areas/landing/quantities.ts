// The landing facts as reckoned quantities: flight, two-way offset and its sensitivity, the change since the alignment, the spread of its picks.

import { DRAG_CAUTION } from '../../calc/landing.ts'
import { isExact, type Range } from '../../calc/range.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { reckonedRow } from '../../model/reckoned-inputs.ts'
import { isInherited, type Setup } from '../../model/setup.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { landingOf } from './facts.ts'

/** Landing of a setup; nothing where it gives neither a gap nor an alignment. */
const rows = (setup: Setup): readonly Reckoned[] => {
  const { profile, own } = setup
  if (!profile.gap && !own.alignment) return []
  return [...flightRows(setup), ...changeRows(setup), ...pickRows(setup)]
}

function flightRows(setup: Setup): Reckoned[] {
  const facts = landingOf(setup)
  const { profile, stock } = setup
  const lengths: ReckonedInput[] = []
  if (profile.gap)
    lengths.push(input('gap', profile.gap.value.si, 'length', isInherited(setup, profile.gap) ? 'inherited' : 'given'))
  if (stock?.thickness) lengths.push(input('thickness of the stock', stock.thickness.value.si, 'length', 'given'))
  const speeds = speedInputs(setup)
  const flight = facts.flight.ok ? [input('flight', facts.flight.value, 'length', 'computed')] : []
  return [
    reckonedRow(
      'landing.flight',
      'Flight of the drops',
      'flight = gap − thickness',
      facts.flight,
      (f) => f,
      'length',
      lengths,
      GEOMETRY,
    ),
    reckonedRow(
      'landing.offset',
      'Two-way offset without compensation',
      OFFSET,
      facts.offset,
      (o) => one(o.offset),
      'length',
      [...flight, ...speeds],
      FLIGHT,
      ROUGH,
    ),
    reckonedRow(
      'landing.per-gap',
      'Offset per length of gap',
      'offset per gap = 2 · carriage speed / drop speed',
      facts.offset,
      (o) => one(o.perGap),
      'number',
      speeds,
      FLIGHT,
      ROUGH,
    ),
    reckonedRow(
      'landing.early',
      'Time to fire early, each way',
      'time = flight / drop speed',
      facts.offset,
      (o) => one(o.early),
      'time',
      [...flight, ...speeds.slice(0, 1)],
      FLIGHT,
      ROUGH,
    ),
  ]
}

function changeRows(setup: Setup): Reckoned[] {
  const { since } = landingOf(setup)
  if (!since) return []
  const parts = [
    ['gap', 'length', since.gap],
    ['thickness', 'length', since.thickness],
    ['carriage speed', 'speed', since.speed],
  ] as const
  const inputs = parts.flatMap(([name, dimension, part]) =>
    part ? [input(`${name} then`, part.before, dimension, 'given'), input(`${name} now`, part.now, dimension, 'given')] : [],
  )
  const formula = 'change = offset now − offset when the alignment was printed'
  return [
    reckonedRow(
      'landing.change',
      'Change since the alignment',
      formula,
      since.total,
      one,
      'length',
      [...inputs, ...speedInputs(setup)],
      FLIGHT,
      ROUGH,
    ),
  ]
}

function pickRows(setup: Setup): Reckoned[] {
  const { picks } = landingOf(setup)
  const step = setup.printer?.alignment?.step?.value.si
  const steps = step === undefined ? [] : [input('step of the pattern', step, 'length', 'given')]
  return (['one-way', 'two-way'] as const).flatMap((way) => {
    const found = picks[way]
    if (!found) return []
    return [
      reckonedRow(
        `landing.${way}.median`,
        `Median of the ${way} picks`,
        'median = median pick · step',
        found,
        (p) => p.median,
        'length',
        steps,
        PATTERN,
      ),
      reckonedRow(
        `landing.${way}.spread`,
        `Spread of the ${way} picks`,
        'spread = (greatest − least pick) · step',
        found,
        (p) => p.spread,
        'length',
        steps,
        PATTERN,
      ),
    ]
  })
}

const OFFSET = 'offset = 2 · carriage speed · flight / drop speed'
/** Digits of what leaves the drag of the air out. */
const ROUGH = 2
const GEOMETRY = 'geometry'
const FLIGHT = `straight flight in still air. ${DRAG_CAUTION}`
const PATTERN = "the printer's alignment pattern"

function speedInputs(setup: Setup): ReckonedInput[] {
  const { dropSpeed, carriageSpeed } = landingOf(setup)
  return [
    ...(dropSpeed ? [input('drop speed', one(dropSpeed), 'speed', 'given')] : []),
    ...(carriageSpeed === undefined ? [] : [input('carriage speed', carriageSpeed, 'speed', 'given')]),
  ]
}

const one = (r: Range): number | Range => (isExact(r) ? r.typical : r)

const input = (
  name: string,
  value: number | Range,
  dimension: ReckonedInput['dimension'],
  origin: ReckonedInput['origin'],
): ReckonedInput => ({ name, value, dimension, origin })

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
