// Many documents open, many opened and closed at once, and many changes at once.
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { BURST, type Key, keys, type PlaceName } from '../keys.ts'
import { median } from '../probe.ts'
import { pause, Session } from '../session.ts'
import { bigShop, type Files, writeShop } from '../shops.ts'
import { LONG_PROFILE, measuredTexts, type Text } from '../texts.ts'
import { PACE } from './keystroke.ts'

const OPEN = 200
const AT_ONCE = 1000
const CHANGES = 200
/** Where letters are typed one after the other. */
const LETTERS: readonly PlaceName[] = ['title', 'new check', 'notes']

export const open: Block = {
  name: 'open',
  about: `a letter in a title with ${OPEN} documents open; ${AT_ONCE} opened and closed at once`,
  async run(context) {
    const files = bigShop(AT_ONCE, context.today)
    const shop = join(context.temp, 'thousand')
    writeShop(shop, files)
    const { report } = context
    const titles = await inRounds(context, () => lettersInATitle(context, shop, files))
    const section = `A letter in a title, ${OPEN} documents open (load ${load()})`
    report.add(
      section,
      'CPU, back to back',
      titles.map((t) => t.backToBack.cpu),
      { unit: 'ms', atMost: 1 },
    )
    report.add(section, 'publishes of other documents a letter', median(titles.map((t) => t.backToBack.others)), { atMost: 0 })
    report.add(
      section,
      `CPU, every ${PACE} ms`,
      titles.map((t) => t.paced.cpu),
      { unit: 'ms' },
    )
    report.add(section, `publishes of other documents a letter, every ${PACE} ms`, median(titles.map((t) => t.paced.others)), {
      atMost: 0,
    })
    const thousands = await inRounds(context, () => thousandAtOnce(context, shop, files))
    const at = `${AT_ONCE} documents opened at once (load ${load()})`
    for (const [i, time] of ['the first time', 'the second time'].entries()) {
      const turns = thousands.map((turn) => turn[i]!)
      report.add(
        at,
        `a hover behind them, ${time}`,
        turns.map((t) => t.hover),
        { unit: 'ms', atMost: 50 },
      )
      report.add(
        at,
        `until all are told of, ${time}, CPU`,
        turns.map((t) => t.opening),
        { unit: 'ms' },
      )
      report.add(
        at,
        `closing them, ${time}, CPU`,
        turns.map((t) => t.closing),
        { unit: 'ms', atMost: 300 },
      )
    }
  },
}

export const burst: Block = {
  name: 'burst',
  about: `${CHANGES} changes in one go`,
  async run(context) {
    const { report } = context
    for (const text of measuredTexts(context.today)) {
      const section = `${CHANGES} changes in a burst: ${text.name} (load ${load()})`
      const bursts = await inRounds(context, () => changes(context, text))
      report.add(
        section,
        'CPU',
        bursts.map((b) => b.cpu),
        { unit: 'ms', atMost: 10 },
      )
      report.add(
        section,
        'to the right diagnostics',
        bursts.map((b) => b.wall),
        { unit: 'ms' },
      )
      report.add(section, 'publishes', median(bursts.map((b) => b.publishes)))
      report.add(section, 'parses', await parses(context, text), { atMost: 1, note: 'on average' })
    }
  },
}

const profilesOf = (files: Files): [path: string, text: string][] => [...files].filter(([path]) => path.endsWith('.media.yaml'))

async function lettersInATitle({ made }: Context, shop: string, files: Files) {
  const [[path, text], ...others] = profilesOf(files).slice(0, OPEN) as [[string, string], ...[string, string][]]
  const session = await Session.start(made.server, {}, shop, path, text)
  const { client, probe } = session
  await openAll(session, shop, others)
  await pause(SETTLED)
  const typist = keys(text, ['title'])
  await session.warmUp(typist, 2 * BURST)
  const series = async (count: number, pace: number): Promise<{ cpu: number; others: number }> => {
    let published = 0
    const stop = client.onPublished(({ uri }) => {
      if (uri !== session.uri) published++
    })
    const before = await probe.cpu()
    await session.measureTyping(typist, count, pace)
    // Whatever a letter set off in other documents belongs to it.
    await pause(SETTLED)
    const cpu = ((await probe.cpu()) - before) / count
    stop()
    return { cpu, others: published / count }
  }
  const out = { backToBack: await series(4 * BURST, 0), paced: await series(2 * BURST, PACE) }
  await session.end()
  return out
}

interface Turn {
  readonly hover: number
  readonly opening: number
  readonly closing: number
}

async function thousandAtOnce({ made }: Context, shop: string, files: Files): Promise<Turn[]> {
  const profiles = profilesOf(files)
  const [first] = profiles
  const session = await Session.start(made.server, {}, shop, ...first!)
  const { client, probe } = session
  const turns: Turn[] = []
  const others = profiles.slice(1)
  const last = uriOf(shop, others.at(-1)![0])
  while (turns.length < 2) {
    const before = await probe.cpu()
    const told = openAll(session, shop, others)
    const start = performance.now()
    const answer = await client.request('textDocument/hover', {
      textDocument: { uri: last },
      position: { line: 3, character: 2 },
    })
    const hover = performance.now() - start
    if (answer === null) throw new Error('the hover answered nothing')
    await told
    await pause(SETTLED)
    const opened = await probe.cpu()
    for (const [path] of others) client.notify('textDocument/didClose', { textDocument: { uri: uriOf(shop, path) } })
    await client.request('textDocument/hover', { textDocument: { uri: session.uri }, position: { line: 3, character: 2 } })
    await pause(3 * SETTLED)
    turns.push({ hover, opening: opened - before, closing: (await probe.cpu()) - opened })
  }
  await session.end()
  return turns
}

/** Opens documents as fast as they can be sent; resolves when each was told of. */
export async function openAll(
  { client }: Session,
  shop: string,
  documents: readonly (readonly [path: string, text: string])[],
): Promise<void> {
  const waiting = new Set(documents.map(([path]) => uriOf(shop, path)))
  const told = new Promise<void>((done) => {
    const stop = client.onPublished(({ uri }) => {
      waiting.delete(uri)
      if (waiting.size > 0) return
      stop()
      done()
    })
  })
  for (const [path, text] of documents) client.open(uriOf(shop, path), text)
  await told
}

export const uriOf = (shop: string, path: string): string => `${pathToFileURL(shop).href}/${path}`

/** Milliseconds after which nothing more is to come. */
const SETTLED = 700

async function changes({ made, shop }: Context, { text }: Text) {
  const session = await Session.start(made.server, {}, shop, LONG_PROFILE, text)
  const typist = keys(text, LETTERS)
  await session.warmUp(typist, CHANGES)
  const all: { cpu: number; wall: number; publishes: number }[] = []
  while (all.length < 10) {
    let publishes = 0
    const stop = session.client.onPublished(() => {
      publishes++
    })
    const before = await session.probe.cpu()
    const start = performance.now()
    await session.burst(typist, CHANGES)
    const wall = performance.now() - start
    await pause(200)
    all.push({ cpu: (await session.probe.cpu()) - before, wall, publishes })
    stop()
    await nextPhase(session, typist)
  }
  await session.end()
  return {
    cpu: median(all.map((a) => a.cpu)),
    wall: median(all.map((a) => a.wall)),
    publishes: median(all.map((a) => a.publishes)),
  }
}

/** Counted in a run of its own, by a server that counts. */
async function parses({ made, shop }: Context, { text }: Text): Promise<number> {
  const session = await Session.start(made.countingServer, {}, shop, LONG_PROFILE, text)
  const typist = keys(text, LETTERS)
  if ((await session.probe.parses()) === 0) throw new Error('opening a document was no parse: the count is wrong')
  const counts: number[] = []
  while (counts.length < 5) {
    const before = await session.probe.parses()
    await session.burst(typist, CHANGES)
    await pause(100)
    counts.push((await session.probe.parses()) - before)
    await nextPhase(session, typist)
  }
  await session.end()
  return counts.reduce((sum, count) => sum + count, 0) / counts.length
}

/** One key more, so that no burst ends in the text that it began with: that would be a burst of nothing. */
async function nextPhase(session: Session, typist: Iterator<Key, never>): Promise<void> {
  await session.type(typist.next().value.stroke)
}
