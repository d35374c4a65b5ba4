// Run as a process of its own: what a keystroke costs that is no server's doing, in process and at the same pace. Arguments: a JSON file with
// the task. `parse` reads the whole text anew with the library, as a server without incremental parsing must; `ajv` checks it too; `loads`
// knows no product: 20,000 loads that wait for each other in 512 kB, which tell how much of the cache is left after the pause.
import { readFileSync } from 'node:fs'
import { setTimeout } from 'node:timers/promises'
import { parseDocument } from 'yaml'
import { media } from '../../../server/src/schema/generated/validators.js'
import { applied, keys, PLACES } from '../keys.ts'

export interface Task {
  readonly what: 'parse' | 'ajv' | 'loads'
  readonly text: string
  /** Milliseconds from one key to the next. */
  readonly pace: number
  /** How many keys are measured, after each of so many keys of warming up. */
  readonly count: number
  readonly warm: readonly number[]
}

/** Warming up ends after so many milliseconds, however many keys that was: a long text takes a second to parse. */
const PATIENCE = 8000

const task: Task = JSON.parse(readFileSync(process.argv[2]!, 'utf8'))
const strokes = keys(task.text, PLACES)
const ring = task.what === 'loads' ? ringOf(2 ** 17) : new Int32Array(1)
let { text } = task
let at = 0
let sum = 0
const out: number[] = []
for (const warm of task.warm) {
  const until = performance.now() + PATIENCE
  for (let i = 0; i < warm && performance.now() < until; i++) step()
  const before = process.cpuUsage()
  for (let i = 0; i < task.count; i++) {
    if (task.pace > 0) await setTimeout(task.pace)
    step()
  }
  const { user, system } = process.cpuUsage(before)
  out.push((user + system) / 1000 / task.count)
}
if (Number.isNaN(sum)) throw new Error('nothing was done')
process.stdout.write(JSON.stringify(out))

function step(): void {
  if (task.what === 'loads') {
    for (let i = 0; i < 20_000; i++) at = ring[at]!
    sum += at
    return
  }
  text = applied(text, strokes.next().value.stroke)
  const document = parseDocument(text)
  sum += task.what === 'ajv' ? Number(media(document.toJS())) : document.errors.length
}

/** Each entry names the next, in no order that a processor could guess, until all were visited. */
function ringOf(length: number): Int32Array {
  const order = Array.from({ length }, (_, i) => i)
  let seed = 1
  for (let i = length - 1; i > 0; i--) {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0
    const j = seed % (i + 1)
    ;[order[i], order[j]] = [order[j]!, order[i]!]
  }
  const next = new Int32Array(length)
  order.forEach((from, i) => {
    next[from] = order[(i + 1) % length]!
  })
  return next
}
