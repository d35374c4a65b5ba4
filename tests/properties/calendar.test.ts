// Documents that nobody touches do not turn red by the calendar alone: whatever the day, a check tells no more of them as a change's fault than on
// the newest day they tell of.
import { fileURLToPath } from 'node:url'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Host } from '../../server/src/host/host.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { fileUri, NodeHost } from '../../server/src/host/node.ts'
import { addDays } from '../../server/src/model/dates.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { runs, some } from '../support/counts.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'

/** What counts as a change's fault on a day: by file, code and place. */
async function blamed(host: Host, folder: string): Promise<readonly string[]> {
  const workspace = new Workspace(host)
  await workspace.addFolder(folder)
  const analysis = new Analysis(workspace, true)
  const out: string[] = []
  for (const file of await host.list(folder)) {
    await workspace.load(file)
    await workspace.prepare(file)
    const due = analysis.due(file)
    for (const finding of analysis.findings(file))
      if (!due.has(finding)) out.push(`${file.slice(folder.length)} ${finding.code} ${finding.span.start}`)
  }
  return out.sort()
}

class OnDay extends NodeHost {
  constructor(private readonly day: string) {
    super()
  }

  override today(): string {
    return this.day
  }
}

test.each(['tern-quay', 'broken'])('%s', async (shop) => {
  const folder = `${fileUri(fileURLToPath(new URL(`../../samples/${shop}`, import.meta.url)))}/`
  const first = await blamed(new OnDay('2026-11-25'), folder)
  expect(first.length).toBeGreaterThan(10)
  // A day that lies ahead is a mistake that is told from the first; what it hid comes out when it is past.
  const ahead = new Set(first.filter((one) => one.includes(' future-date ')).map((one) => one.split(' ')[0]))
  for (const days of some([1, 8, 31, 62, 180, 800], 6)) {
    const later = await blamed(new OnDay(addDays('2026-11-25', days)), folder)
    const blamedLater = later.filter((one) => !first.includes(one) && !ahead.has(one.split(' ')[0]))
    expect(blamedLater.join('\n'), `${days} days later`).toBe('')
  }
})

test('profiles whose checks grow old one by one', async () => {
  const check = fc.record({
    day: fc.integer({ min: 50, max: 80 }),
    // Together they ask for what is set, alone for more or for less.
    measured: fc.constantFrom(1996, 1998, 2000),
    lot: fc.constantFrom('A-1', 'A-2'),
  })
  await fc.assert(
    fc.asyncProperty(
      fc.array(check, { minLength: 2, maxLength: 6 }),
      fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 4 }),
      async (checks, days) => {
        const rows = checks.map(
          ({ day, measured, lot }) =>
            `    - {date: ${addDays('2026-01-01', day)}, commanded: 2000 mm, measured: ${measured}.0 mm, applied: 0 %, lot: ${lot}}`,
        )
        const newest = addDays('2026-01-01', Math.max(...checks.map(({ day }) => day)))
        const { files } = parseFixture(`#- p.media.yaml
profile: p
stock: s
printer: bay-1
feed:
  correction: +0.10 %
  checks:
${rows.join('\n')}
#- s.stock.yaml
stock: s
lots: [{lot: A-1, received: 2026-01-01}, {lot: A-2, received: 2026-03-02}]
#- bay-1.printer.yaml
printer: bay-1
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
#- rollbook.yaml
shop: Tern Quay Print Works
recheck: {feed: 30 d}
tolerance: {length: 0.05 %}
`)
        const first = await blamed(new MemoryHost(files, newest), ROOT)
        for (const day of days) {
          const later = await blamed(new MemoryHost(files, addDays(newest, day)), ROOT)
          expect(later.filter((one) => !first.includes(one))).toEqual([])
        }
      },
    ),
    { numRuns: runs(60) },
  )
})
