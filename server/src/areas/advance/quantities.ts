// Advance, output and bands in numbers: how far the media moves a pass, what a mode makes in an hour, and how its bands look from the viewing distance.
import type { Outcome } from '../../base/outcome.ts'
import type { Range } from '../../calc/range.ts'
import { PEAK_FREQUENCY } from '../../calc/visibility.ts'
import type { ReckonedInput } from '../../model/reckoned.ts'
import { assumedInput, computedInput, givenInput, profileInput, shopInput } from '../../model/reckoned-inputs.ts'
import type { Setup } from '../../model/setup.ts'
import { type AreaQuantities, pick, type Quantity, type Step } from '../quantity.ts'
import { throughputOf } from './facts.ts'
import { advanceSentence, bandsSentence, outputSentence, passSentence, seenBestSentence, shiftSentence } from './words.ts'

const applies = ({ printer, mode }: Setup): boolean => printer !== undefined && mode !== undefined

const GEOMETRIC = { source: 'geometry and elementary mechanics; no published worked example', applies }

const SIGHT = 'geometry of sight; Mannos & Sakrison 1974 for how it ranks'

type OfPlan = 'rasterPitch' | 'interlace' | 'swath' | 'advance' | 'linesPerAdvance'
type OfPass = 'passTime' | 'period' | 'areaRate' | 'webSpeed'

const ofPlan = (key: OfPlan) => (setup: Setup) => pick(throughputOf(setup).plan, (plan) => plan[key])
const ofPass = (key: OfPass) => (setup: Setup) => pick(throughputOf(setup).pass, (pass) => pass[key])

const rasterPitch: Quantity = {
  key: 'advance.raster-pitch',
  title: 'Raster line to raster line',
  dimension: 'length',
  formula: 'line = 1 / resolution',
  ...GEOMETRIC,
  inputs: (setup) => ({ resolution: resolutionInput(setup) }),
  value: ofPlan('rasterPitch'),
}

const interlace: Quantity = {
  key: 'advance.interlace',
  title: 'Raster lines from nozzle to nozzle',
  dimension: 'number',
  formula: {
    text: 'interlace = pitch / rows · resolution, or the whole number that is within 0.5 % of it: a typed pitch is rounded',
    kind: 'steps',
    steps: interlaceSteps,
  },
  ...GEOMETRIC,
  inputs: (setup) => ({
    pitch: givenInput('nozzle pitch', setup.printer?.heads?.['nozzle-pitch'], 'length'),
    rows: rowsInput(setup),
    resolution: resolutionInput(setup),
  }),
  value: ofPlan('interlace'),
}

function interlaceSteps(setup: Setup): readonly Step[] {
  const { plan } = throughputOf(setup)
  const heads = setup.printer?.heads
  const pitch = heads?.['nozzle-pitch']?.value.si
  if (!plan.ok || pitch === undefined) return []
  const typed: Step = {
    formula: 'typed = pitch / rows · resolution',
    value: pitch / (heads?.rows?.value ?? 1) / plan.value.rasterPitch,
  }
  const { interlace } = plan.value
  return [typed, { formula: `interlace = ${Number.isInteger(interlace) ? 'round(typed)' : 'typed'}`, value: interlace }]
}

const swath: Quantity = {
  key: 'advance.swath',
  title: 'Height of one pass',
  dimension: 'length',
  formula: 'swath = nozzles · rows · interlace · line',
  ...GEOMETRIC,
  inputs: (setup) => ({
    nozzles: givenInput('nozzles in a row', setup.printer?.heads?.nozzles, 'number'),
    rows: rowsInput(setup),
    interlace: found('raster lines from nozzle to nozzle', ofPlan('interlace')(setup), 'number'),
    line: found('raster line to raster line', ofPlan('rasterPitch')(setup), 'length'),
  }),
  value: ofPlan('swath'),
}

const perPass: Quantity = {
  key: 'advance.per-pass',
  title: 'Advance of a pass',
  dimension: 'length',
  formula: 'advance = swath / (passes · strikes)',
  ...GEOMETRIC,
  inputs: (setup) => ({
    swath: found('height of one pass', ofPlan('swath')(setup), 'length'),
    passes: givenInput('passes', setup.mode?.passes, 'number'),
    strikes: profileInput(setup, 'strikes', setup.profile.carriage?.strikes, 'number') ?? defaultInput('strikes', 1, 'number'),
  }),
  value: ofPlan('advance'),
  sentence: advanceSentence,
}

const lines: Quantity = {
  key: 'advance.lines',
  title: 'Raster lines of an advance',
  dimension: 'number',
  formula: 'lines = advance · resolution',
  ...GEOMETRIC,
  inputs: (setup) => ({ advance: advanceInput(setup), resolution: resolutionInput(setup) }),
  value: ofPlan('linesPerAdvance'),
}

const passTime: Quantity = {
  key: 'throughput.pass-time',
  title: 'Time of a pass',
  dimension: 'time',
  formula: 'pass = ways · ((width + 2 · overrun) / speed + turnaround)',
  ...GEOMETRIC,
  inputs: (setup) => {
    const { printer, mode } = setup
    const carriage = printer?.carriage
    const directions = mode?.directions?.value
    return {
      ways:
        directions === undefined
          ? undefined
          : { name: directions, value: directions === 'one-way' ? 2 : 1, dimension: 'number', origin: 'given' },
      width: reachInput(setup),
      overrun: givenInput('overrun', carriage?.overrun, 'length'),
      speed: givenInput('carriage speed', mode?.['carriage-speed'], 'speed'),
      turnaround: givenInput('turnaround', carriage?.turnaround, 'time'),
    }
  },
  value: ofPass('passTime'),
}

const period: Quantity = {
  key: 'throughput.period',
  title: 'Pass to pass',
  dimension: 'time',
  formula: 'period = pass + pause',
  ...GEOMETRIC,
  inputs: (setup) => ({
    pass: found('pass time', ofPass('passTime')(setup), 'time'),
    pause: profileInput(setup, 'pause', setup.profile.drying?.pause, 'time') ?? defaultInput('pause', 0, 'time'),
  }),
  value: ofPass('period'),
  sentence: passSentence,
}

const areaRate: Quantity = {
  key: 'throughput.area-rate',
  title: 'Output',
  dimension: 'area-rate',
  formula: 'output = advance · width / period',
  ...GEOMETRIC,
  inputs: (setup) => ({ advance: advanceInput(setup), width: jobInput(setup), period: periodInput(setup) }),
  value: ofPass('areaRate'),
  sentence: outputSentence,
}

const webSpeed: Quantity = {
  key: 'throughput.web-speed',
  title: 'Mean speed of the web',
  dimension: 'speed',
  formula: 'speed = advance / period',
  ...GEOMETRIC,
  inputs: (setup) => ({ advance: advanceInput(setup), period: periodInput(setup) }),
  value: ofPass('webSpeed'),
}

const frequency: Quantity = {
  key: 'bands.frequency',
  title: 'Bands one advance apart',
  dimension: 'number',
  unit: '1/°',
  formula: 'frequency = 2 · distance · tan(π / 360) / advance',
  source: SIGHT,
  applies,
  inputs: (setup) => ({
    advance: advanceInput(setup),
    distance: shopInput('viewing distance', setup.shop.viewingDistance, 'length'),
  }),
  value: (setup) => pick(throughputOf(setup).bands, (bands) => bands.frequency),
  sentence: bandsSentence,
}

const seenFrom: Quantity = {
  key: 'bands.seen-from',
  title: 'Distance from which bands are seen best',
  dimension: 'length',
  digits: 2,
  formula: 'distance = best · advance / (2 · tan(π / 360))',
  source: SIGHT,
  validity: 'for bands that repeat: a single line or step is seen best from close by',
  applies,
  inputs: (setup) => ({
    advance: advanceInput(setup),
    best: assumedInput('cycles per degree that the eye sees best', PEAK_FREQUENCY, 'number', 'Mannos & Sakrison 1974'),
  }),
  value: (setup) => throughputOf(setup).seenBest,
  sentence: seenBestSentence,
}

const quarterPixel: Quantity = {
  key: 'bands.quarter-pixel',
  title: 'Feed error that shifts a boundary by a quarter of a pixel',
  dimension: 'relative',
  formula: 'error = 1 / (4 · resolution · advance)',
  ...GEOMETRIC,
  inputs: (setup) => ({ advance: advanceInput(setup), resolution: resolutionInput(setup) }),
  value: (setup) => throughputOf(setup).quarterPixel,
  sentence: shiftSentence,
}

function resolutionInput({ mode }: Setup): ReckonedInput | undefined {
  const input = givenInput('resolution along the feed', mode?.resolution, 'resolution')
  return input && { ...input, value: mode?.resolution?.value.second ?? input.value }
}

const rowsInput = ({ printer }: Setup): ReckonedInput =>
  givenInput('rows', printer?.heads?.rows, 'number') ?? defaultInput('rows', 1, 'number')

const found = (name: string, value: Outcome<number | Range>, dimension: ReckonedInput['dimension']): ReckonedInput | undefined =>
  value.ok ? computedInput(name, value.value, dimension) : undefined

const advanceInput = (setup: Setup): ReckonedInput | undefined => found('advance', ofPlan('advance')(setup), 'length')

const periodInput = (setup: Setup): ReckonedInput | undefined => found('period', ofPass('period')(setup), 'time')

function jobInput(setup: Setup, name = 'width of the job (the widest that fits)'): ReckonedInput | undefined {
  const { job } = throughputOf(setup)
  return job.ok ? defaultInput(name, job.value.width, 'length') : undefined
}

/** How far the carriage goes. */
function reachInput(setup: Setup): ReckonedInput | undefined {
  switch (throughputOf(setup).turnAt) {
    case 'print-edge':
      return jobInput(setup)
    case 'web-edge':
      return jobInput(setup, 'width of the web (the widest that fits)')
    case 'bed-end':
      return givenInput('width of the bed', setup.printer?.carriage?.['bed-width'], 'length')
  }
}

const defaultInput = (name: string, value: number, dimension: ReckonedInput['dimension']): ReckonedInput => ({
  name,
  value,
  dimension,
  origin: 'default',
})

export const quantities: AreaQuantities = [
  rasterPitch,
  interlace,
  swath,
  perPass,
  lines,
  passTime,
  period,
  areaRate,
  webSpeed,
  frequency,
  seenFrom,
  quarterPixel,
]
