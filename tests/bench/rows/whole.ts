// The findings of a whole shop, for a client that asks for them: all of them once, and what a limit of one stock changes in its closed profiles.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { LspClient } from '../lsp-client.ts'
import { Probe } from '../probe.ts'
import { pause } from '../session.ts'
import { bigShop, writeShop } from '../shops.ts'
import { uriOf } from './many.ts'

const PROFILES = 1000
/** Every fiftieth profile is of it. */
const STOCK = 'stocks/film-7.stock.yaml'
const ITS_PROFILES = PROFILES / 50

export const whole: Block = {
  name: 'whole',
  about: `findings of ${PROFILES} closed profiles, and those that change with a limit of a stock`,
  async run(context) {
    const shop = join(context.temp, 'whole')
    writeShop(shop, bigShop(PROFILES, context.today))
    const rounds = await inRounds(context, () => once(context, shop))
    const section = `Findings of ${PROFILES} closed profiles (load ${load()})`
    const row = (title: string, key: keyof Round, options: { unit: string; atMost?: number }): void =>
      context.report.add(
        section,
        title,
        rounds.map((round) => round[key]),
        options,
      )
    row('the first time, CPU', 'first', { unit: 'ms' })
    row('a hover while they are looked for', 'hover', { unit: 'ms', atMost: 50 })
    row('heap after a collection', 'heap', { unit: 'MB' })
    row(`a limit of a stock, until the last of its ${ITS_PROFILES} profiles is told of`, 'changed', { unit: 'ms', atMost: 150 })
    row('the same, CPU', 'changedCpu', { unit: 'ms' })
  },
}

interface Round {
  readonly first: number
  readonly hover: number
  readonly heap: number
  readonly changed: number
  readonly changedCpu: number
}

interface Reports {
  readonly items: readonly { readonly uri: string }[]
}

async function once({ made }: Context, shop: string): Promise<Round> {
  const probe = new Probe(made.server, { args: ['--stdio'] })
  const client = new LspClient(probe)
  await client.initialize(uriOf(shop, '').replace(/\/$/, ''), { diagnostic: {} })
  const told = new Set<string>()
  client.onProgress(({ items }) => {
    for (const { uri } of items as Reports['items']) told.add(uri)
  })
  const before = await probe.cpu()
  void client.request('workspace/diagnostic', { previousResultIds: [], partialResultToken: 'whole' }).catch(() => undefined)
  const text = readFileSync(join(shop, STOCK), 'utf8')
  const stock = uriOf(shop, STOCK)
  client.open(stock, text)
  const asked = performance.now()
  await client.request('textDocument/hover', { textDocument: { uri: stock }, position: { line: 3, character: 2 } })
  const hover = performance.now() - asked
  await quiet(told)
  const first = (await probe.cpu()) - before
  const { heap } = await probe.memory()
  told.clear()
  const changed = text.replace(/^max-web-temperature:.*$/m, 'max-web-temperature: 30 °C')
  if (changed === text) throw new Error('the stock has no limit to change')
  const cpu = await probe.cpu()
  const start = performance.now()
  let last = start
  const stop = client.onProgress(() => {
    last = performance.now()
  })
  client.notify('textDocument/didChange', { textDocument: { uri: stock, version: 2 }, contentChanges: [{ text: changed }] })
  await quiet(told)
  stop()
  const profiles = [...told].filter((uri) => uri.endsWith('.media.yaml')).length
  if (profiles !== ITS_PROFILES) throw new Error(`${profiles} profiles were told of, not ${ITS_PROFILES}`)
  const out = { first, hover, heap, changed: last - start, changedCpu: (await probe.cpu()) - cpu }
  await probe.kill()
  return out
}

/** Resolves when nothing more has come for a while. */
async function quiet(told: ReadonlySet<string>): Promise<void> {
  for (let before = -1; before !== told.size || before === 0; ) {
    before = told.size
    await pause(1500)
  }
}
