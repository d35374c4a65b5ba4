// The suction as a picture: what each level does to the web, each as a share of what is allowed, and the levels that hold it without harm.
import { plainText } from '../../base/plain-text.ts'
import type { Range } from '../../calc/range.ts'
import type { SuctionRow } from '../../calc/suction-window.ts'
import { isUnknown } from '../../model/range-words.ts'
import type { Picture, Point, Shape } from '../../picture/picture.ts'
import { sentence } from '../../rules/support/words.ts'
import type { AreaPicture } from '../picture.ts'
import { DIMPLE_SHOWS, type SuctionFacts, type SuctionStep, suctionOf } from './facts.ts'
import {
  allowedSentence,
  couplingSentence,
  dimpleText,
  dragSentence,
  holdsSentence,
  neededSentence,
  riseText,
  stepText,
  stretchText,
} from './words.ts'

type Row = SuctionRow<SuctionStep>

export const picture: AreaPicture = (setup) => {
  const facts = suctionOf(setup)
  const { window, set } = facts
  const { units, tolerance } = setup.shop
  const at = setup.profile.suction?.place
  const given = { id: 'suction', title: 'Suction: what each level does', at }
  if (!window.ok) {
    if (!at) return undefined
    return { ...given, said: [sentence(window.problem.reason)], chart: undefined, table: { header: [], rows: [] }, notes: [] }
  }
  const { rows } = window.value
  const things: readonly Thing[] = [
    {
      kind: 'stretch',
      shape: 'square',
      limit: tolerance.length.value,
      of: (row) => row.strain,
      text: (row) => stretchText(row, units),
    },
    {
      kind: 'curl left',
      shape: 'triangle',
      limit: facts.riseLimit.value,
      of: (row) => row.curl.rise,
      text: (row) => riseText(row, units),
    },
    {
      kind: 'dimples',
      shape: 'dot',
      limit: DIMPLE_SHOWS.typical,
      of: (row) => row.dimple,
      text: (row) => dimpleText(row, units),
    },
  ]
  return {
    ...given,
    said: [allowedSentence(setup), holdsSentence(setup), neededSentence(setup)]
      .filter((line) => line !== undefined)
      .map(plainText),
    chart: {
      x: {
        kind: 'names',
        names: rows.map(({ level }) => nameOf(level, units)),
        label: rows[0]?.level.level === undefined ? 'suction' : 'level',
      },
      y: { label: '% of what is allowed', log: true },
      bands: [],
      lines: [
        {
          points: [
            [-0.5, 100],
            [rows.length - 0.5, 100],
          ],
          look: 'limit',
          name: 'allowed',
        },
      ],
      uprights: rows.flatMap(({ level }, x) => (level === set ? [{ x, look: 'today' as const, mark: 'set', name: 'set' }] : [])),
      spans: holding(facts, rows),
      points: rows.flatMap((row, x) => things.map((thing) => pointOf(row, x, thing, units))),
    },
    table: {
      header: ['suction', 'stretches', 'leaves of the curl', 'dimples', 'so it'],
      rows: rows.map((row, i) => ({
        id: String(i + 1),
        cells: [
          `${stepText(row.level, units)}${row.level === set ? ', set' : ''}`,
          ...things.map((thing) => thing.text(row)),
          VERDICTS[row.verdict],
        ],
        at: row.level === set ? at : setup.printer?.suction?.levels?.entries.get(String(row.level.level))?.place,
      })),
    },
    notes: [
      ...[dragSentence(setup), couplingSentence(setup)].filter((line) => line !== undefined).map(plainText),
      'How far suction reaches under the web is an assumption: from the openings alone to the whole platen.',
    ],
  } satisfies Picture
}

const VERDICTS: Readonly<Record<Row['verdict'], string>> = {
  holds: 'holds',
  'too-weak': 'is too weak',
  'too-strong': 'is too strong',
  unfit: 'does both harms',
}

const nameOf = (step: SuctionStep, units: Parameters<typeof stepText>[1]): string => step.name ?? stepText(step, units)

/** One thing that suction does, and how much of it is allowed. */
interface Thing {
  readonly kind: string
  readonly shape: Shape
  readonly limit: number
  of(row: Row): Range
  text(row: Row): string
}

/** Shares beyond these are drawn as these: nobody reads a thousandth of what is allowed, or more than a hundred times. */
const LEAST = 0.1
const MOST = 1e4

function pointOf(row: Row, x: number, { kind, shape, limit, of, text }: Thing, units: Parameters<typeof stepText>[1]): Point {
  const share = (value: number): number => Math.min(MOST, Math.max(LEAST, (value / limit) * 100))
  const { low, typical, high } = of(row)
  const known = !isUnknown(of(row), 1e-7)
  return {
    row: String(x + 1),
    x,
    y: share(typical),
    low: share(low),
    high: share(high),
    shape: known ? shape : 'cross',
    kind: known ? kind : `${kind}, not known`,
    name: `${stepText(row.level, units)}: ${kind} ${text(row)}`,
  }
}

/** The levels that hold the web without harm, over the chart. */
function holding({ levels }: SuctionFacts, rows: readonly Row[]): readonly { from: number; to: number; name: string }[] {
  const good = rows.flatMap(({ verdict }, x) => (verdict === 'holds' ? [x] : []))
  const [from, to] = [good.at(0), good.at(-1)]
  return from === undefined || levels.length === 0 ? [] : [{ from: from - 0.4, to: to! + 0.4, name: 'holds' }]
}
