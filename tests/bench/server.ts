// Our server over stdio: typing and asking at three lengths, starting up beside a bare server and a bare Node, and holding memory.
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { Bundles } from './bundles.ts'
import { LspClient } from './lsp-client.ts'
import { type Memory, median, Probe, runToEnd } from './probe.ts'
import { type Answers, pause, Session, type Typing } from './session.ts'
import { keystrokes, LONG_PROFILE, placeOf, profileOfLines } from './texts.ts'

/** A round of the keystroke script: the text is the same before and after. */
const ROUND = 96

export interface AtLength {
  readonly typing: Typing
  /** The same after a thousand keystrokes more: the engine compiles a busy server for a good while. */
  readonly longRun: Typing
  readonly hover: Answers
  readonly completion: Answers
  readonly codeAction: Answers
  readonly inlay: Answers
}

export async function measureAtLength(script: string, shop: string, lines: number, today: Date): Promise<AtLength> {
  const text = profileOfLines(lines, today)
  const session = await Session.start(script, {}, shop, LONG_PROFILE, text)
  const typing = await session.measureTyping(keystrokes(text, 2 * ROUND), keystrokes(text, ROUND))
  const longRun = await session.measureTyping(keystrokes(text, 2 * ROUND), keystrokes(text, 10 * ROUND))
  const strokes = keystrokes(text, 2 * ROUND)
  const check = placeOf(text, 'check in the middle')
  const wholeLine = ({ line }: { line: number }) => ({ start: { line, character: 0 }, end: { line: line + 1, character: 0 } })
  const windowOf = ({ line }: { line: number }) => ({
    range: { start: { line: Math.max(0, line - 30), character: 0 }, end: { line: line + 30, character: 0 } },
  })
  const hover = await session.measureRequest('textDocument/hover', strokes, check - 3)
  const completion = await session.measureRequest('textDocument/completion', strokes, check + 3)
  const inlay = await session.measureRequest('textDocument/inlayHint', strokes, check, windowOf)
  const codeAction = await session.measureRequest('textDocument/codeAction', strokes, check - 3, (position) => ({
    range: wholeLine(position),
    context: { diagnostics: [] },
  }))
  await session.end()
  return { typing, longRun, hover, completion, codeAction, inlay }
}

export interface Start {
  readonly wall: number
  readonly cpu: number
  readonly runs: number
}

/** Spawn to the first diagnostics that stay as they are once the server has read the whole shop: medians over runs in turn. */
export async function measureStarts(
  bundles: Bundles,
  shop: string,
  today: Date,
  runs: number,
): Promise<{ ours: Start; bare: Start; node: Start; rss: { ours: number; bare: number } }> {
  const text = profileOfLines(120, today)
  const ours: Once[] = []
  const bare: Once[] = []
  const node: { wall: number; cpu: number }[] = []
  for (let i = 0; i < runs; i++) {
    ours.push(await startOnce(bundles.server, {}, shop, text))
    bare.push(await startOnce(bundles.bareServer, {}, shop, text))
    node.push(await runToEnd(['-e', '0']))
  }
  return {
    ours: medians(ours),
    bare: medians(bare),
    node: medians(node),
    rss: { ours: median(ours.map((o) => o.rss)), bare: median(bare.map((o) => o.rss)) },
  }
}

interface Once {
  readonly wall: number
  readonly cpu: number
  readonly rss: number
}

/** One start. The first right diagnostics are known only in the end, so each publication is noted with its time and cost so far. */
export async function startOnce(
  script: string,
  options: ConstructorParameters<typeof Probe>[1],
  shop: string,
  text: string,
  configuration?: (section: string) => unknown,
  settle = 700,
): Promise<Once> {
  const probe = new Probe(script, { ...options, args: ['--stdio'] })
  const client = new LspClient(probe, configuration)
  const root = pathToFileURL(shop).href
  const uri = `${root}/${LONG_PROFILE}`
  const seen: { wall: number; cpu: Promise<number>; what: string }[] = []
  client.onPublished((published) => {
    if (published.uri !== uri) return
    const what = JSON.stringify(published.diagnostics)
    seen.push({ wall: performance.now() - probe.started, cpu: probe.cpu(), what })
  })
  await client.initialize(root)
  client.open(uri, text)
  while (seen.length === 0) await pause(20)
  await pause(settle)
  const right = seen.find((s) => s.what === seen.at(-1)!.what)!
  const once = { wall: right.wall, cpu: await right.cpu, rss: probe.rss() }
  await probe.kill()
  return once
}

const medians = (list: readonly { wall: number; cpu: number }[]): Start => ({
  wall: median(list.map((l) => l.wall)),
  cpu: median(list.map((l) => l.cpu)),
  runs: list.length,
})

export interface Held {
  /** After 1,000, 4,000, 10,000 and 20,000 edits. */
  readonly edited: readonly Memory[]
  readonly with200: Memory
  readonly afterClosing: Memory
  /** After the same two hundred were opened and closed a second time: what grows by the time is not let go. */
  readonly afterClosingAgain: Memory
}

/** What the server holds while one document of 300 lines is edited, with 200 more of the sort open, and with everything closed. */
export async function measureMemory(script: string, shop: string, today: Date): Promise<Held> {
  const text = profileOfLines(300, today)
  const others = Array.from({ length: 200 }, (_, i) => `profiles/open-${i}-bay-1.media.yaml`)
  const textOf = (path: string): string =>
    text
      .replace('profile: long-history-bay-1', `profile: ${path.slice('profiles/'.length, -'.media.yaml'.length)}`)
      .replace(/^slot: .*\n/m, '')
  for (const path of others) writeFileSync(join(shop, path), textOf(path))
  const session = await Session.start(script, { flags: ['--expose-gc'] }, shop, LONG_PROFILE, text)
  const edited: Memory[] = []
  for (let _round = 0, edits = 0; edited.length < MARKS.length; _round++) {
    for (const { stroke } of keystrokes(text, ROUND)) await session.type(stroke)
    edits += ROUND
    if (edits >= MARKS[edited.length]!) edited.push(await session.memory())
  }
  const { client } = session
  const uriOf = (path: string): string => `${pathToFileURL(shop).href}/${path}`
  const openAll = async (): Promise<void> => {
    for (const path of others) {
      const told = client.published(uriOf(path))
      client.open(uriOf(path), textOf(path))
      await told
    }
  }
  const closeAll = async (uris: readonly string[]): Promise<Memory> => {
    for (const uri of uris) client.notify('textDocument/didClose', { textDocument: { uri } })
    // A request is answered once everything before it is done; what follows of it is over within the pause.
    await client.request('rollbook/explain', {})
    await pause(1500)
    return session.memory()
  }
  await openAll()
  const with200 = await session.memory()
  const afterClosing = await closeAll([...others.map(uriOf), session.uri])
  await openAll()
  const afterClosingAgain = await closeAll(others.map(uriOf))
  await session.end()
  for (const path of others) rmSync(join(shop, path))
  return { edited, with200, afterClosing, afterClosingAgain }
}

const MARKS = [1000, 4000, 10_000, 20_000]
