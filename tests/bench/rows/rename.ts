// Renaming over a shop of ten thousand profiles: a printer, which a tenth of them name, and an instrument, which all of them do.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { LspClient } from '../lsp-client.ts'
import { Probe } from '../probe.ts'
import { pause } from '../session.ts'
import { bigShop, writeShop } from '../shops.ts'
import { uriOf } from './many.ts'

const PROFILES = 10_000
const NAMES: readonly (readonly [what: string, file: string, before: RegExp])[] = [
  ['a printer of 1,000 profiles', 'printers/press-1.printer.yaml', /^printer: (?=press-1)/m],
  ['an instrument of 10,000', 'rollbook.yaml', /^ +(?=steel-rule-1m:)/m],
]

export const rename: Block = {
  name: 'rename',
  about: `a new name for what many of ${PROFILES} profiles name`,
  async run(context) {
    const shop = join(context.temp, 'renamed')
    writeShop(shop, bigShop(PROFILES, context.today))
    const rounds = await inRounds(context, () => round(context, shop))
    for (const [i, [what]] of NAMES.entries())
      context.report.add(
        `Rename in a shop of ${PROFILES} profiles (load ${load()})`,
        what,
        rounds.map((times) => times[i]!),
        { unit: 'ms', atMost: 1000 },
      )
  },
}

async function round({ made }: Context, shop: string): Promise<number[]> {
  const probe = new Probe(made.server, { args: ['--stdio'] })
  const client = new LspClient(probe)
  await client.initialize(uriOf(shop, '').replace(/\/$/, ''))
  const times: number[] = []
  for (const [what, file, before] of NAMES) {
    const text = readFileSync(join(shop, file), 'utf8')
    const uri = uriOf(shop, file)
    const first = client.published(uri)
    client.open(uri, text)
    await first
    await pause(2000)
    const { index, 0: found } = before.exec(text)!
    const line = text.slice(0, index).split('\n').length - 1
    const start = performance.now()
    const edit = (await client.request('textDocument/rename', {
      textDocument: { uri },
      position: { line, character: found.length },
      newName: 'another-name',
    })) as { documentChanges?: readonly unknown[] } | null
    times.push(performance.now() - start)
    if ((edit?.documentChanges?.length ?? 0) < PROFILES / 10) throw new Error(`the rename of ${what} reached too few documents`)
  }
  await probe.kill()
  return times
}
