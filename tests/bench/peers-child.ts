// Run as a process of its own: the libraries alone, in process, on the texts our server is measured with. For each text and each keystroke
// the whole document is parsed (and checked against the schema), as a server without incremental parsing must. Argument: a JSON file of texts.
import { readFileSync } from 'node:fs'
import { parseDocument } from 'yaml'
import { media } from '../../server/src/schema/generated/validators.js'
import { applied, keystrokes } from './texts.ts'

const WARM_UP = 100
const MEASURED = 192

const texts = JSON.parse(readFileSync(process.argv[2]!, 'utf8')) as Record<string, string>
const out: Record<string, { parse: Cost; ajv: Cost }> = {}
for (const [lines, text] of Object.entries(texts)) {
  out[lines] = {
    parse: perEdit(text, (t) => parseDocument(t).errors.length),
    ajv: perEdit(text, (t) => (media(parseDocument(t).toJS()) ? 0 : 1)),
  }
}
process.stdout.write(JSON.stringify(out))

interface Cost {
  readonly wall: number
  readonly cpu: number
}

function perEdit(start: string, work: (text: string) => number): Cost {
  let text = start
  const walls: number[] = []
  let cpuStart = process.cpuUsage()
  let sum = 0
  keystrokes(start, WARM_UP + MEASURED).forEach(({ stroke }, i) => {
    if (i === WARM_UP) cpuStart = process.cpuUsage()
    text = applied(text, stroke)
    const before = performance.now()
    sum += work(text)
    if (i >= WARM_UP) walls.push(performance.now() - before)
  })
  if (Number.isNaN(sum)) throw new Error('nothing was parsed')
  const { user, system } = process.cpuUsage(cpuStart)
  walls.sort((a, b) => a - b)
  return { wall: walls[walls.length >> 1]!, cpu: (user + system) / 1000 / MEASURED }
}
