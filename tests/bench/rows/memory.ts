// What the server holds: idle, with many documents open, after they were closed, and after a long day's edits.
import { cpSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { keys, PLACES } from '../keys.ts'
import type { Memory } from '../probe.ts'
import { pause, Session } from '../session.ts'
import { LONG_PROFILE, profileOfLines } from '../texts.ts'
import { openAll, uriOf } from './many.ts'
import { medianStart, startOnce } from './start.ts'

const OPEN = 200
/** A minute, and time for whatever looks at the clock now and then. */
const UNTOUCHED = 80_000

export const memory: Block = {
  name: 'memory',
  about: `resident when idle; heap with ${OPEN} documents open, a minute later, and after closing (2 minutes a round)`,
  async run(context) {
    const { made, report, shop } = context
    const text = profileOfLines(120, context.today)
    const section = `Memory (load ${load()})`
    const idle = (script: string) =>
      inRounds(context, async () => (await medianStart(3, () => startOnce(script, {}, shop, text, 3000))).rss)
    report.add(section, 'resident when idle, one document open', await idle(made.server), { unit: 'MB', atMost: 62 })
    report.add(section, 'the same, bare bundled server', await idle(made.bareServer), { unit: 'MB' })
    const all = await inRounds(context, () => twoHundred(context))
    const heap = (name: keyof Held, title: string, atMost?: number): void =>
      report.add(
        section,
        title,
        all.map((held) => held[name].heap),
        {
          unit: 'MB',
          note: `resident ${all[0]![name].rss.toFixed(0)} MB`,
          ...(atMost !== undefined && { atMost }),
        },
      )
    heap('one', 'heap after a collection, one document of 31 kB open')
    heap('open', `${OPEN} more open, just read`)
    heap('untouched', 'a minute later, none touched', 60)
    heap('closed', 'those closed again', 15)
    heap('closedAgain', 'opened and closed a second time', 15)
  },
}

interface Held {
  readonly one: Memory
  readonly open: Memory
  readonly untouched: Memory
  readonly closed: Memory
  readonly closedAgain: Memory
}

async function twoHundred(context: Context): Promise<Held> {
  const { made, shop, temp } = context
  const text = profileOfLines(300, context.today)
  const others = Array.from({ length: OPEN }, (_, i): [string, string] => [
    `profiles/open-${i}-bay-1.media.yaml`,
    text.replace('profile: long-history-bay-1', `profile: open-${i}-bay-1`).replace(/^slot: .*\n/m, ''),
  ])
  // A shop of its own: the other blocks measure without these.
  const own = join(temp, 'two-hundred')
  cpSync(shop, own, { recursive: true })
  for (const [path, of] of others) writeFileSync(join(own, path), of)
  const session = await Session.start(made.server, { flags: ['--expose-gc'] }, own, LONG_PROFILE, text)
  const { client, probe } = session
  const close = async (): Promise<Memory> => {
    for (const [path] of others) client.notify('textDocument/didClose', { textDocument: { uri: uriOf(own, path) } })
    // A request is answered once everything before it is done; what follows of it is over within the pause.
    await client.request('textDocument/hover', { textDocument: { uri: session.uri }, position: { line: 3, character: 2 } })
    await pause(1500)
    return probe.memory()
  }
  const one = await probe.memory()
  await openAll(session, own, others)
  const open = await probe.memory()
  await pause(UNTOUCHED)
  const untouched = await probe.memory()
  const closed = await close()
  await openAll(session, own, others)
  const closedAgain = await close()
  await session.end()
  return { one, open, untouched, closed, closedAgain }
}

const MARKS = [1000, 4000, 10_000, 20_000] as const

export const growth: Block = {
  name: 'growth',
  about: 'heap over 20,000 edits of one document',
  async run({ made, report, shop, today }) {
    const section = 'Heap after a collection, one document of 300 lines edited'
    const text = profileOfLines(300, today)
    const session = await Session.start(made.server, { flags: ['--expose-gc'] }, shop, LONG_PROFILE, text)
    const typist = keys(text, PLACES)
    const held: Memory[] = []
    let edits = 0
    for (const mark of MARKS) {
      await session.warmUp(typist, mark - edits)
      edits = mark
      held.push(await session.probe.memory())
      report.add(section, `after ${mark} edits`, held.at(-1)!.heap, {
        unit: 'MB',
        note: `resident ${held.at(-1)!.rss.toFixed(0)} MB`,
      })
    }
    await session.end()
    const [, , ten, twenty] = held
    // Until ten thousand the engine still compiles what was used seldom before.
    report.add(section, 'growth from 10,000 to 20,000 edits', 100 * (twenty!.heap / ten!.heap - 1), { unit: '%', atMost: 5 })
  },
}
