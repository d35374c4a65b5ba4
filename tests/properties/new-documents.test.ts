// Documents made of answers: whatever is left open, what is made has no error, and what is added later says the same as what was answered at once.
import fc from 'fast-check'
import '../support/seed.ts'
import { expect, test } from 'vitest'
import { parse } from 'yaml'
import { compose } from '../../server/src/report/new/compose.ts'
import { NO_SHELF } from '../../server/src/report/new/judge.ts'
import { type Answers, arises } from '../../server/src/report/new/question.ts'
import { QUESTIONS } from '../../server/src/report/new/questions.ts'
import { readAnswers } from '../../server/src/report/new/read.ts'
import { runs } from '../support/counts.ts'

const TODAY = '2026-11-26'

/** An answer to every question that does not exclude another. */
const PRINTER = {
  printer: 'bay-7',
  title: 'Bay 7: by the # door',
  mode: 'everyday',
  resolution: '720 x 1440 dpi',
  passes: '8',
  'feed-entry': 'percent',
  'feed-step': '0.01 %',
  'feed-range': '-2 %, 2 %',
  'pattern-lengths': '20 in; 40 in',
  'bed-width': '64 in',
  gaps: '1.5 mm,2 mm',
  directions: 'two-way',
  'carriage-speed': '1 m/s',
  'nozzle-pitch': '1/180 in',
  nozzles: '180',
  rows: '2',
  channels: 'cyan, magenta, yellow, black',
  'drop-speed': '7 m/s',
  turnaround: '0.4 s',
  overrun: '120 mm',
  'alignment-patches': '11',
  'alignment-step': '18 µm',
  'fine-rows': 'left, right',
  'fine-patches': '9',
  'fine-step': '2 µm',
  'heated-zones': 'platen, after',
  'platen-range': '30 °C, 50 °C',
  'platen-step': '1 K',
  'platen-length': '200 mm',
  'platen-coupling': '120 W/m²K',
  'after-range': '86 °F, 140 °F',
  'after-length': '450 mm',
  'pause-range': '0 s, 10 s',
  'run-out-range': '0 min, 60 min',
  'path-to-winding': '1.4 m',
  'suction-levels': '1: 100 Pa, 2: 200 Pa',
  'suction-depth': '120 mm',
  'open-area': '3 %',
  hole: '2 mm',
  'tension-range': '5 N/m, 60 N/m',
  'web-speed': '20 mm/s, 120 mm/s',
  'slack-watch': 'never',
  slots: '12',
  'ink-base': 'water',
  cautions: 'It bites, here; and there: # too',
}

const ALL: Answers = (() => {
  const { answers, faults } = readAnswers('printer', new Map(Object.entries(PRINTER)), TODAY)
  expect(faults).toEqual([])
  return answers
})()

const MUSTS = QUESTIONS.printer.filter(({ must }) => must).map(({ key }) => key)

const made = (answers: Answers, into?: string): string => {
  const composed = compose({ kind: 'printer', answers, file: 'bay-7.printer.yaml', into, shelf: NO_SHELF, today: TODAY })
  if (!composed.ok) throw new Error(composed.refused)
  return composed.text
}

/** With a section that is begun and says nothing left out: it says as much as none. */
const said = (value: unknown): unknown =>
  typeof value !== 'object' || value === null || Array.isArray(value)
    ? value
    : Object.fromEntries(
        Object.entries(value).flatMap(([key, inner]) => {
          const kept = said(inner)
          return typeof kept === 'object' && kept !== null && Object.keys(kept).length === 0 ? [] : [[key, kept]]
        }),
      )

test('a printer of any of the answers, and the rest added afterwards, is the printer of all', () => {
  const whole = said(parse(made(ALL)))
  fc.assert(
    fc.property(fc.subarray([...ALL.keys()]), (kept) => {
      const first = new Map([...ALL].filter(([key]) => MUSTS.includes(key) || kept.includes(key)))
      for (const question of QUESTIONS.printer) if (!arises(question, first)) first.delete(question.key)
      const begun = made(first)
      const rest = new Map([...ALL].filter(([key]) => !first.has(key)))
      // The mode and the zones are named again, so that what belongs to them finds its place.
      const named = new Map([...rest, ['mode', ALL.get('mode')!], ['heated-zones', ALL.get('heated-zones')!]])
      const grown = rest.size === 0 ? begun : made(named, begun)
      expect(said(parse(grown))).toEqual(whole)
      // Whatever stood there stands there still, line by line.
      const lines = grown.split('\n')
      for (const line of begun.split('\n')) if (!/\{.*\}$/.test(line)) expect(lines).toContain(line)
    }),
    { numRuns: runs(20) },
  )
})
