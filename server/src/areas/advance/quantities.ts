// The throughput facts as reckoned quantities: advance, pass, output, web speed and bands, each with its formula and inputs.

import type { F } from '../../model/field.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import { reckonedRow } from '../../model/reckoned-inputs.ts'
import { isInherited, type Setup } from '../../model/setup.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { type PassFacts, throughputOf } from './facts.ts'

type Dim = ReckonedInput['dimension']

/** Advance and throughput of a setup; nothing where no printer and mode are known. */
const rows = (setup: Setup): readonly Reckoned[] => {
  if (!setup.printer || !setup.mode) return []
  return [...advanceRows(setup), ...outputRows(setup), ...bandRows(setup)]
}

function advanceRows(setup: Setup): Reckoned[] {
  const { plan } = throughputOf(setup)
  const { heads, mode } = { heads: setup.printer?.heads, mode: setup.mode }
  const nozzles = [
    given('nozzle pitch', heads?.['nozzle-pitch']?.value.si, 'length'),
    given('nozzles in a row', heads?.nozzles?.value, 'number'),
    heads?.rows ? given('rows', heads.rows.value, 'number') : standard('rows', 1, 'number'),
  ].flat()
  const passes = [...given('passes', mode?.passes?.value, 'number'), ...strikesInput(setup)]
  const along = mode?.resolution?.value
  const resolution = given('resolution along the feed', along && (along.second ?? along.si), 'resolution')
  const row = (
    key: string,
    title: string,
    formula: string,
    pick: (p: OkPlan) => number,
    dimension: Dim,
    inputs: ReckonedInput[],
  ) => reckonedRow(`advance.${key}`, title, formula, plan, pick, dimension, inputs, GEOMETRY)
  return [
    row(
      'raster-pitch',
      'Raster line to raster line',
      'raster pitch = 1 / resolution along the feed',
      (p) => p.rasterPitch,
      'length',
      resolution,
    ),
    row(
      'interlace',
      'Raster lines from nozzle to nozzle',
      'interlace = nozzle pitch / rows · resolution',
      (p) => p.interlace,
      'number',
      [...nozzles, ...resolution],
    ),
    row('swath', 'Height of one pass', 'swath = nozzles · nozzle pitch', (p) => p.swath, 'length', nozzles),
    row('per-pass', 'Advance of a pass', 'advance = swath / (passes · strikes)', (p) => p.advance, 'length', [
      ...nozzles,
      ...passes,
    ]),
    row(
      'lines',
      'Raster lines of an advance',
      'lines = advance · resolution along the feed',
      (p) => p.linesPerAdvance,
      'number',
      [...nozzles, ...passes, ...resolution],
    ),
  ]
}

function outputRows(setup: Setup): Reckoned[] {
  const { job, pass, plan, travel, pause } = throughputOf(setup)
  const { printer, mode, profile } = setup
  const width: ReckonedInput[] = job.ok
    ? [{ name: 'width of the job (the widest that fits)', value: job.value.width, dimension: 'length', origin: 'default' }]
    : []
  const stroke = travel === 'bed' ? given('width of the bed', printer?.carriage?.['bed-width']?.value.si, 'length') : width
  const passInputs = [
    ...stroke,
    ...given('overrun', printer?.carriage?.overrun?.value.si, 'length'),
    ...given('turnaround', printer?.carriage?.turnaround?.value.si, 'time'),
    ...given('carriage speed', mode?.['carriage-speed']?.value.si, 'speed'),
  ]
  const rest = profile.drying?.pause ? own(setup, 'pause', profile.drying.pause, pause, 'time') : standard('pause', 0, 'time')
  const advance = plan.ok ? computed('advance', plan.value.advance, 'length') : []
  const time = pass.ok ? computed('pass time', pass.value.passTime, 'time') : []
  const period = pass.ok ? computed('period', pass.value.period, 'time') : []
  const row = (
    key: string,
    title: string,
    formula: string,
    pick: (p: PassFacts) => number,
    dimension: Dim,
    inputs: ReckonedInput[],
  ) => reckonedRow(`throughput.${key}`, title, formula, pass, pick, dimension, inputs, GEOMETRY)
  const ways = mode?.directions?.value === 'one-way' ? '2 · ' : ''
  return [
    row(
      'pass-time',
      'Time of a pass',
      `pass time = ${ways}((width + 2 · overrun) / carriage speed + turnaround)`,
      (p) => p.passTime,
      'time',
      passInputs,
    ),
    row('period', 'Pass to pass', 'period = pass time + pause', (p) => p.period, 'time', [...time, ...rest]),
    row('area-rate', 'Output', 'output = advance · width / period', (p) => p.areaRate, 'area-rate', [
      ...advance,
      ...width,
      ...period,
    ]),
    row('web-speed', 'Mean speed of the web', 'web speed = advance / period', (p) => p.webSpeed, 'speed', [
      ...advance,
      ...period,
    ]),
  ]
}

function bandRows(setup: Setup): Reckoned[] {
  const { bands, quarterPixel, plan } = throughputOf(setup)
  const { viewingDistance } = setup.shop
  const advance = plan.ok ? computed('advance', plan.value.advance, 'length') : []
  const along = setup.mode?.resolution?.value
  return [
    {
      ...reckonedRow(
        'bands.frequency',
        'Bands one advance apart',
        'frequency = 2 · viewing distance · tan 0.5° / advance',
        bands,
        (b) => b.frequency,
        'number',
        [
          ...advance,
          {
            name: 'viewing distance',
            value: viewingDistance.value,
            dimension: 'length',
            origin: viewingDistance.place ? 'given' : 'default',
          },
        ],
        'geometry of sight; Mannos & Sakrison 1974 for how it ranks',
      ),
      unit: '1/°',
    },
    reckonedRow(
      'bands.quarter-pixel',
      'Feed error that shifts a boundary by a quarter of a pixel',
      'feed error = 1 / (4 · resolution along the feed · advance)',
      quarterPixel,
      (e) => e,
      'relative',
      [...advance, ...given('resolution along the feed', along && (along.second ?? along.si), 'resolution')],
      GEOMETRY,
    ),
  ]
}

type OkPlan = Extract<ReturnType<typeof throughputOf>['plan'], { ok: true }>['value']

const GEOMETRY = 'geometry and elementary mechanics; no published worked example'

function strikesInput(setup: Setup): ReckonedInput[] {
  const field = setup.profile.carriage?.strikes
  return field ? own(setup, 'strikes', field, field.value, 'number') : standard('strikes', 1, 'number')
}

const given = (name: string, value: number | undefined, dimension: Dim): ReckonedInput[] =>
  value === undefined ? [] : [{ name, value, dimension, origin: 'given' }]

const computed = (name: string, value: number, dimension: Dim): ReckonedInput[] => [
  { name, value, dimension, origin: 'computed' },
]

const standard = (name: string, value: number, dimension: Dim): ReckonedInput[] => [{ name, value, dimension, origin: 'default' }]

const own = (setup: Setup, name: string, field: F<unknown>, value: number, dimension: Dim): ReckonedInput[] => [
  { name, value, dimension, origin: isInherited(setup, field) ? 'inherited' : 'given' },
]

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
