// A thousand losses sown into a history of ten thousand commits: all of them named, and nothing else. `LOSSES=`, `SEED=random`.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ENV, rollbook } from '../cli/repository.ts'
import { importHistory, makeHistory } from '../merge/history.ts'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { told } from './told.ts'

const losses = Number(process.env.LOSSES ?? 1250)

test(`${losses} losses are found in ${2 * losses} merges`, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-lost-'))
  try {
    const { stream, seeded } = makeHistory(new Chance(seed), 2 * losses, 2)
    importHistory(folder, stream, ENV)
    const began = process.cpuUsage()
    const start = Date.now()
    const { out } = await rollbook(folder, 'git', 'lost', '--json')
    const seconds = (Date.now() - start) / 1000
    const { user } = process.cpuUsage(began)
    const named = (JSON.parse(out).lost as Record<string, string>[]).map(
      ({ file, what, measurement }) => `${file} ${what} ${/measured ([^,]*)/.exec(measurement!)![1]}`,
    )
    const sown = seeded.map(({ file, what, measured }) => `${file} ${what} ${measured}`)
    const missed = sown.filter((one) => !named.includes(one))
    const invented = named.filter((one) => !sown.includes(one))
    told(
      `git lost, seed ${seed}: ${8 * losses} commits, ${2 * losses} merges, ${sown.length} losses sown, ${missed.length} missed, ${invented.length} false, in ${seconds.toFixed(1)} s (${(user / 1e6).toFixed(1)} s of our own processor time)`,
    )
    expect({ missed, invented }).toEqual({ missed: [], invented: [] })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
