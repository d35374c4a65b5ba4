// What a keystroke costs our server, beside what it would cost without any checking: at a person's pace and back to back.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Task } from '../children/in-process.ts'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { ELSEWHERE, keys, MEASUREMENTS, type PlaceName } from '../keys.ts'
import { median, runToEnd } from '../probe.ts'
import { Session, type SessionOptions } from '../session.ts'
import { LONG_PROFILE, measuredTexts, type Text } from '../texts.ts'

/** Milliseconds from one key to the next. */
export const PACE = 100

/** Whole rounds over the places of either script, so that each counts the same. */
const KEYS = { paced: 72, backToBack: 240 }
/** Keys of warming up before the first series, and before the second. */
const FEW = 20
const MANY = 1000

const SERIES: readonly (readonly [name: string, places: readonly PlaceName[]])[] = [
  ['of a measurement', MEASUREMENTS],
  ['elsewhere', ELSEWHERE],
]

type Targets = Readonly<Record<number, number>>

interface Way {
  readonly pace: number
  readonly count: number
  /** CPU milliseconds a keystroke, by the lines of the text. */
  readonly first: Targets
  readonly warm: Targets
}

const PACED: Way = { pace: PACE, count: KEYS.paced, first: { 120: 2.2 }, warm: { 120: 1.7, 300: 2, 2000: 4 } }
export const BACK_TO_BACK: Way = { pace: 0, count: KEYS.backToBack, first: {}, warm: { 120: 0.6, 300: 0.7, 2000: 1.5 } }

/** From so many bytes on, a keystroke shall cost no more than bare parsing of the text. */
const LONG_ENOUGH = 5000

export const paced: Block = {
  name: 'paced',
  about: `CPU a keystroke at a person's pace, ${PACE} ms from key to key (7 minutes a round)`,
  run: (context) => measure(context, PACED, `A keystroke every ${PACE} ms`),
}

export const typing: Block = {
  name: 'typing',
  about: 'CPU a keystroke back to back',
  run: (context) => measure(context, BACK_TO_BACK, 'A keystroke, back to back'),
}

async function measure(context: Context, way: Way, title: string): Promise<void> {
  const { made, report } = context
  const texts = measuredTexts(context.today)
  const control = await inRounds(context, () => inProcess(context, 'loads', texts[0]!, way))
  addPair(context, title, 'no product: 20,000 loads in 512 kB', control, {})
  for (const text of texts) {
    const section = `${title}: ${text.name} (load ${load()})`
    const floors = await inRounds(context, () => typed(context, made.nullServer, { silent: true }, text, MEASUREMENTS, way))
    addPair(context, section, 'null server', floors.map(cpuOf), {})
    const parses = await inRounds(context, () => inProcess(context, 'parse', text, way))
    addPair(context, section, 'bare yaml parse', parses, {})
    for (const [series, places] of SERIES) {
      const ours = await inRounds(context, () => typed(context, made.server, {}, text, places, way))
      addPair(context, section, `ours, edits ${series}`, ours.map(cpuOf), {
        first: way.first[text.lines],
        warm: way.warm[text.lines],
      })
      report.add(section, `ours, edits ${series}, to diagnostics`, median(ours.map(([, warm]) => warm.p50)), {
        unit: 'ms',
        note: `p50; p95 ${median(ours.map(([, warm]) => warm.p95)).toFixed(1)} ms`,
      })
      if (text.text.length < LONG_ENOUGH) continue
      const ratio = median(ours.map(([, warm]) => warm.cpu)) / median(parses.map(([, warm]) => warm))
      report.add(section, `ours, edits ${series}, to bare parse, warm`, ratio, { unit: 'x', atMost: 1 })
    }
  }
}

type Pair<T> = readonly [first: T, warm: T]

const cpuOf = ([first, warm]: Pair<{ readonly cpu: number }>): Pair<number> => [first.cpu, warm.cpu]

function addPair(
  { report }: Context,
  section: string,
  name: string,
  values: readonly Pair<number>[],
  targets: { readonly first?: number | undefined; readonly warm?: number | undefined },
): void {
  const more = (atMost: number | undefined) => ({ unit: 'ms', ...(atMost !== undefined && { atMost }) })
  const [first, warm] = [values.map(([f]) => f), values.map(([, w]) => w)]
  report.add(section, `${name}, from the first keys`, first, more(targets.first))
  report.add(section, `${name}, warm`, warm, more(targets.warm))
}

/** A fresh server typed in: after few keys, and after many. */
async function typed(
  { shop }: Context,
  script: string,
  options: SessionOptions,
  { text }: Text,
  places: readonly PlaceName[],
  { pace, count }: Way,
): Promise<Pair<{ cpu: number; p50: number; p95: number }>> {
  const session = await Session.start(script, options, shop, LONG_PROFILE, text)
  const typist = keys(text, places)
  await session.measureTyping(typist, FEW, pace)
  const first = await session.measureTyping(typist, count, pace)
  await session.warmUp(typist, MANY)
  const warm = await session.measureTyping(typist, count, pace)
  await session.end()
  return [first, warm]
}

export async function inProcess(
  { made, temp }: Context,
  what: Task['what'],
  { text }: Text,
  { pace, count }: Way,
): Promise<Pair<number>> {
  const file = join(temp, 'task.json')
  // A long text is parsed for a third of a second: a part of the keys says enough.
  const task: Task = { what, text, pace, count: Math.min(count, text.length > 100_000 ? 24 : KEYS.paced), warm: [FEW, MANY] }
  writeFileSync(file, JSON.stringify(task))
  const { output } = await runToEnd([made.inProcess, file])
  return JSON.parse(output) as [number, number]
}
