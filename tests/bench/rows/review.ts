// `rollbook review` of a repository of ten thousand profiles: fifty that changed, and one stock that a thousand use.
import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Block, inRounds, load } from '../context.ts'
import { median, runToEnd } from '../probe.ts'
import { bigShop, writeShop } from '../shops.ts'

const WHO = ['-c', 'user.name=Kim', '-c', 'user.email=kim@ternquay.example']

export const review: Block = {
  name: 'review',
  about: '`review` of two revisions of 10,000 profiles: 50 that changed, and a stock that 1,000 use',
  async run(context) {
    const { made, report, temp, today } = context
    const folder = join(temp, 'reviewed')
    // Fifty stocks, of which five become one.
    const files = [...bigShop(10_000, today)].map(
      ([path, text]) => [path, text.replace(/^stock: film-[1-5]$/m, 'stock: film-1')] as const,
    )
    writeShop(folder, new Map(files))
    const git = (...args: readonly string[]): void => void execFileSync('git', [...WHO, ...args], { cwd: folder })
    const edit = (path: string, from: string, to: string): void =>
      writeFileSync(join(folder, path), readFileSync(join(folder, path), 'utf8').replace(from, to))
    git('init', '-q', '-b', 'main')
    git('add', '-A')
    git('commit', '-q', '-m', 'the shop')
    for (let i = 0; i < 50; i++) {
      const below = `profiles/${i}`
      edit(`${below}/${readdirSync(join(folder, below)).sort()[0]}`, 'platen: 40 °C', 'platen: 45 °C')
    }
    git('commit', '-q', '-a', '-m', 'fifty')
    edit('stocks/film-1.stock.yaml', 'expansion: 70', 'expansion: 80')
    git('commit', '-q', '-a', '-m', 'a stock')
    const section = `rollbook review of two revisions of 10,000 profiles (load ${load()})`
    for (const [name, range, wall] of [
      ['50 profiles changed', 'main~2..main~1', 1500],
      ['a stock that 1,000 use', 'main~1..main', 1000],
    ] as const) {
      const ran = await inRounds(context, () => runToEnd([made.cli, 'review', range, '--fail-on', 'never'], { cwd: folder }))
      report.add(
        section,
        `${name}, CPU without git's`,
        ran.map((one) => one.cpu),
        {
          unit: 'ms',
          atMost: wall,
          note: `wall ${median(ran.map((one) => one.wall)).toFixed(0)} ms`,
        },
      )
    }
  },
}
