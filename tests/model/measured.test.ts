// What instruments measured is the same of a closed profile, of which the checks alone are read, and of the same one open; and a shop that tells of it
// follows its profiles.
import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { LiveDocument, type RollDocument } from '../../server/src/model/document.ts'
import { measuredOf, readMeasured } from '../../server/src/model/measured.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { runs } from '../support/counts.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { edited, longProfile, randomEdit } from '../support/texts.ts'

const SAMPLES = new URL('../../samples/', import.meta.url)
const INSTRUMENTS = ['steel-rule-1m', 'tape-5m']
const texts = readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' })
  .filter((name) => kindOfFile(name) === 'media')
  .map((name) => readFileSync(new URL(name, SAMPLES), 'utf8'))

const closed = (text: string) => readMeasured('x', text, INSTRUMENTS)
const open = (text: string) => measuredOf(new LiveDocument('x', 'media', text) as unknown as RollDocument<'media'>, INSTRUMENTS)

describe('of a closed profile and of the same one open', () => {
  test('the samples say the same, and something', () => {
    for (const text of texts) expect(closed(text)).toEqual(open(text))
    expect(texts.flatMap((text) => closed(text).checks).length).toBeGreaterThan(30)
  })

  test('whatever is typed', () => {
    fc.assert(
      fc.property(fc.constantFrom(...texts, longProfile(30)), fc.array(randomEdit, { maxLength: 4 }), (text, edits) => {
        const now = edits.reduce(edited, text)
        expect(closed(now)).toEqual(open(now))
      }),
      { numRuns: runs(1000) },
    )
  })
})

test('those that count, with the day of the newest by anything else', () => {
  const text = `profile: p
feed:
  checks:
    - { date: 2026-03-01, commanded: 1 m, measured: 1 m, applied: 0 %, with: tape-5m }
    - { date: 2026-03-02, commanded: 1 m, measured: 1 m, applied: 0 %, with: tape-5m, skip: slipped }
    - { date: 2026-03-03, commanded: 1 m, measured: 1 m, with: tape-5m }
    - { date: 2026-03-05, commanded: 1 m, measured: 1 m, applied: 0 % }
    - { date: 2026-03-04, commanded: 1 m, measured: 1 m, applied: 0 %, with: steel-rule-2m }
`
  expect(closed(text)).toEqual({
    file: 'x',
    profile: 'p',
    checks: [{ instrument: 'tape-5m', date: '2026-03-01', start: text.indexOf('tape-5m'), end: text.indexOf('tape-5m') + 7 }],
    otherwise: '2026-03-05',
  })
})

describe('a shop that tells of its profiles', () => {
  const CHECK = (date: string): string =>
    `feed: { checks: [{ date: ${date}, commanded: 1 m, measured: 1 m, applied: 0 %, with: rule }] }\n`
  const SHOP = `#- rollbook.yaml
shop: S
instruments: { rule: { kind: rule, suspect: [{ from: 2026-03-10, why: dropped }] } }
#- a.media.yaml
profile: a
${CHECK('2026-03-11')}#- b.media.yaml
profile: b
${CHECK('2026-03-09')}`

  async function opened() {
    const { file, files } = parseFixture(SHOP)
    const host = new MemoryHost(files, '2026-03-31')
    const workspace = new Workspace(host)
    await workspace.addFolder(ROOT)
    workspace.update(file, files.get(file)!)
    const analysis = new Analysis(workspace, true)
    const told = async () => {
      await workspace.prepare(file)
      return analysis.findings(file).flatMap(({ code, message }) => (code === 'instrument-found-wrong' ? [message] : []))
    }
    return { file, files, host, workspace, analysis, told }
  }
  const toldOf = (count: string, names: string): readonly string[] => [
    `${count} made with 'rule' while it was in doubt (dropped, since 2026-03-10), and ${count.startsWith('1 ') ? 'counts' : 'count'} for nothing. Measure again first, since nothing newer speaks for ${names.includes(' and ') ? 'them' : 'it'}: ${names}.`,
  ]

  test('follows what is typed, saved, made and deleted', async () => {
    const { file, files, workspace, analysis, told } = await opened()
    expect(await told()).toEqual(toldOf('1 check of 1 profile was', 'a'))
    workspace.update(`${ROOT}b.media.yaml`, `profile: b\n${CHECK('2026-03-12')}`)
    expect(analysis.current(file), 'a keystroke in a profile asks the shop anew').toBeUndefined()
    expect(await told()).toEqual(toldOf('2 checks of 2 profiles were', 'a and b'))
    await workspace.close(`${ROOT}b.media.yaml`)
    expect(await told()).toEqual(toldOf('1 check of 1 profile was', 'a'))
    files.set(`${ROOT}c.media.yaml`, `profile: c\n${CHECK('2026-03-12')}`)
    await workspace.changedOnDisk(`${ROOT}c.media.yaml`)
    expect(await told()).toEqual(toldOf('2 checks of 2 profiles were', 'a and c'))
    files.delete(`${ROOT}a.media.yaml`)
    await workspace.changedOnDisk(`${ROOT}a.media.yaml`)
    expect(await told()).toEqual(toldOf('1 check of 1 profile was', 'c'))
  })

  test('reads nothing of profiles where no instrument was in doubt', async () => {
    const { file, files, workspace, told } = await opened()
    workspace.update(file, files.get(file)!.replace(/suspect: .*?\]/, 'division: 1 mm'))
    expect(workspace.prepare(file)).toBeUndefined()
    expect(await told()).toEqual([])
  })

  test('says nothing of a profile that cannot be read, and of the others what is so', async () => {
    const { files, workspace, told } = await opened()
    files.delete(`${ROOT}b.media.yaml`)
    expect(await told()).toEqual(toldOf('1 check of 1 profile was', 'a'))
    await workspace.changedOnDisk(`${ROOT}b.media.yaml`)
    expect(await told()).toEqual(toldOf('1 check of 1 profile was', 'a'))
  })
})
