// `rollbook check` of a whole shop beside bare parsing of the same bytes, and reading ten thousand profiles in.
import { join } from 'node:path'
import { type Block, type Context, inRounds, load } from '../context.ts'
import { canPin, median, type Run, runToEnd } from '../probe.ts'
import { bigShop, mixedShop, writeShop } from '../shops.ts'

export const check: Block = {
  name: 'check',
  about: '`check` of 1,000 profiles (`--full`: and of 10,000), on one core and on all',
  async run(context) {
    for (const count of context.full ? [1000, 10_000] : [1000]) await measureCheck(context, count)
  },
}

async function measureCheck(context: Context, count: number): Promise<void> {
  const { made, report, temp } = context
  const folder = join(temp, `mixed-${count}`)
  const bytes = writeShop(folder, mixedShop(count))
  const section = `rollbook check of ${count} profiles, ${(bytes / 1e6).toFixed(1)} MB (load ${load()})`
  const pinned = canPin()
  if (!pinned) report.add(section, 'on one core', 'not held on one core: there is no taskset here')
  const runs = await inRounds(context, async () => ({
    bare: await runToEnd([made.bareParse, folder], { pinned }),
    ours: await runToEnd([made.cli, 'check', folder], { pinned }),
    bareFree: await runToEnd([made.bareParse, folder]),
    oursFree: await runToEnd([made.cli, 'check', folder]),
  }))
  await runToEnd([made.cli, 'check', folder, '--cache', `${folder}.kept`])
  const again = await inRounds(context, () => runToEnd([made.cli, 'check', folder, '--cache', `${folder}.kept`]))
  const said = runs[0]!.ours.output.trimEnd().split('\n').at(-1) ?? ''
  report.add(section, 'documents parsed bare', Number(runs[0]!.bare.output), { note: said })
  const ratios = (of: (run: (typeof runs)[number]) => number): number[] => runs.map(of)
  report.add(
    section,
    'ours to bare parse, CPU, one core',
    ratios((r) => r.ours.cpu / r.bare.cpu),
    { unit: 'x', atMost: 1.6 },
  )
  report.add(
    section,
    'ours to bare parse, wall, all cores',
    ratios((r) => r.oursFree.wall / r.bareFree.wall),
    { unit: 'x', atMost: 1.1 },
  )
  report.add(
    section,
    'unchanged, verdicts kept, to bare parse, CPU',
    again.map((run, i) => run.cpu / runs[i]!.bareFree.cpu),
    { unit: 'x', atMost: 0.15 },
  )
  const row = (name: string, of: (run: (typeof runs)[number]) => Run): void => {
    report.add(
      section,
      `${name}, CPU`,
      ratios((r) => of(r).cpu),
      {
        unit: 'ms',
        note: `wall ${median(ratios((r) => of(r).wall)).toFixed(0)} ms`,
      },
    )
  }
  row('ours, one core', (r) => r.ours)
  row('bare parse, one core', (r) => r.bare)
  // The second of a round follows the first on the same files: whatever is kept from run to run shows here.
  row('ours, all cores, the second run', (r) => r.oursFree)
  row('bare parse, all cores', (r) => r.bareFree)
}

interface Indexed {
  readonly wall: number
  readonly cpu: number
  readonly documents: number
  /** MB more than before, after a collection. */
  readonly heap: number
  /** MB of the whole process, after a collection. */
  readonly rss: number
}

export const shop: Block = {
  name: 'shop',
  about: 'reading a shop of 10,000 profiles in, and what is held of it',
  async run(context) {
    const { made, report, temp } = context
    const folder = join(temp, 'ten-thousand')
    const bytes = writeShop(folder, bigShop(10_000, context.today))
    const section = `Reading in a shop of 10,000 profiles, ${(bytes / 1e6).toFixed(1)} MB (load ${load()})`
    const read = async (how: 'index' | 'bare'): Promise<Indexed> =>
      JSON.parse((await runToEnd(['--expose-gc', made.workspace, how, folder])).output)
    const pairs = await inRounds(context, async () => ({ bare: await read('bare'), index: await read('index') }))
    report.add(section, 'documents', pairs[0]!.index.documents)
    report.add(
      section,
      'ours to bare parse, CPU',
      pairs.map((p) => p.index.cpu / p.bare.cpu),
      { unit: 'x', atMost: 1.5 },
    )
    report.add(
      section,
      'ours, CPU',
      pairs.map((p) => p.index.cpu),
      { unit: 'ms' },
    )
    report.add(
      section,
      'bare yaml parseDocument of the same bytes, CPU',
      pairs.map((p) => p.bare.cpu),
      { unit: 'ms' },
    )
    report.add(
      section,
      'heap held',
      pairs.map((p) => p.index.heap),
      {
        unit: 'MB',
        atMost: 150,
        note: `process resident ${pairs[0]!.index.rss.toFixed(0)} MB`,
      },
    )
  },
}
