// What findings rest on is known by what was read: these settings and documents, and no others.
import { expect, test } from 'vitest'
import { RecordedRun } from '../../server/src/workspace/recorded-run.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'

const FIXTURE = `#- a.media.yaml
profile: a
stock: s
printer: p
mode: m
heat: {after: 50 °C}
drying: {run-out: 1 min}
#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 100 µm
dry-touch: {time: 6 min, at: 42 °C}
#- p.printer.yaml
printer: p
heaters: {after: {length: 600 mm, range: [30 °C, 90 °C], step: 1 K}}
drying: {path-to-winding: 1.4 m, pause-range: [0 s, 10 s], run-out-range: [0 s, 10 min]}
`

test('a rule about drying rests on drying, heat, stock and mode, and on nothing of the feed or the day', async () => {
  const fixture = parseFixture(FIXTURE)
  const { workspace } = await openFixture(fixture)
  const document = workspace.document(fixture.file)!
  const shelf = workspace.shelf(fixture.file)
  const setup = workspace.setup(document, shelf)
  const run = new RecordedRun(document, { setup, shelf, today: '2026-03-31' })
  expect(run.restsOn('run-out-below-touch-dry')).toEqual([])
  run.findings({ document, setup, shelf, today: '2026-03-31', strict: true })
  const rests = run.restsOn('run-out-below-touch-dry')
  expect(rests).toEqual(
    expect.arrayContaining([
      'profile drying.run-out',
      'stock dry-touch.time',
      'stock dry-touch.at',
      'printer drying.run-out-range',
      'document shop',
    ]),
  )
  expect(rests.filter((name) => /feed|today|observed|text|title/.test(name))).toEqual([])
})

test('feed, fine picks and heat rest on the settings that their evidence rests on, and not on the height of the heads', async () => {
  const fixture = parseFixture(`#- a.media.yaml
profile: a
stock: s
printer: p
mode: m
gap: 2 mm
web: {tension: 2}
heat: {platen: 40 °C}
feed:
  correction: +0.1 %
  checks:
    - {date: 2026-03-01, commanded: 1000 mm, measured: 999 mm, applied: 0 %, under: then}
  fine: {date: 2026-03-01, applied: 0 %, picks: {left: 1, right: 1}, under: then}
conditions:
  then: {from: said, stock: s, printer: p, mode: m, gap: 2 mm, web.tension: 1, heat.platen: 40 °C}
#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 100 µm
#- p.printer.yaml
printer: p
modes: {m: {passes: 8}}
carriage: {gaps: [1.5 mm, 2 mm]}
web: {tension-levels: {1: 10 N/m, 2: 20 N/m}}
heaters: {platen: {length: 600 mm, range: [30 °C, 60 °C], step: 1 K}}
`)
  const { workspace } = await openFixture(fixture)
  const document = workspace.document(fixture.file)!
  const shelf = workspace.shelf(fixture.file)
  const setup = workspace.setup(document, shelf)
  const run = new RecordedRun(document, { setup, shelf, today: '2026-03-31' })
  run.findings({ document, setup, shelf, today: '2026-03-31', strict: true })
  const rests = run.restsOn('feed-correction')
  expect(rests).toEqual(expect.arrayContaining(['profile web.tension', 'profile heat.platen']))
  expect(rests).not.toContain('profile gap')
})
