// What profiles have in common becomes a base: every setting of each is as before, and nothing that was measured or remarked is lost.
import { beforeAll, describe, expect, test } from 'vitest'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import type { Action } from '../../server/src/features/context.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { RollDocument } from '../../server/src/model/document.ts'
import { evidenceIn, meaningOf, settingCells } from '../../server/src/model/evidence.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { extractBases } from '../../server/src/workspace/extracting.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { samples } from '../support/texts.ts'
import { SHOP } from './example-shop.ts'

type Files = ReadonlyMap<string, string>

async function openShop(files: Files): Promise<Analysis> {
  const workspace = new Workspace(new MemoryHost(new Map(files), '2026-11-25'))
  await workspace.addFolder(ROOT)
  return new Analysis(workspace, true)
}

async function offered(analysis: Analysis, file: string): Promise<readonly Action[]> {
  const document = (await analysis.workspace.load(file))!
  await analysis.workspace.prepare(file)
  return extractBases(analysis, file, { start: document.text.indexOf('profile:') })
}

/** The shop's files after an action. */
function after(files: Files, { file, edits, others, makes }: Action): Files {
  const out = new Map(files)
  for (const [at, own] of [[file, edits] as const, ...others!])
    out.set(at, applyEdits(files.get(at)!, editsOf(files.get(at)!, own)))
  return out.set(makes!.file, makes!.text)
}

/** What a profile prints with, and what was measured in it. */
async function told(analysis: Analysis, file: string): Promise<{ settings: readonly string[]; evidence: readonly string[] }> {
  const document = (await analysis.workspace.load(file)) as RollDocument<'media'>
  await analysis.workspace.prepare(file)
  const cells = settingCells(analysis.context(file)!.setup!.profile).filter(({ key }) => key !== 'base')
  return {
    settings: cells.map(({ key, part, meaning }) => `${key} ${part} ${meaning}`).sort(),
    evidence: evidenceIn(document).map((entry) => meaningOf(entry.cells)),
  }
}

const remarks = (text: string): readonly string[] => [...text.matchAll(/(?:^|\s)#+ ?(.*)/g)].map(([, words]) => words!.trim())

const shopOf = (profiles: string): Files => parseFixture(`${profiles}${SHOP.replace(/#- everyday[\s\S]*/, '')}`).files

async function afterFirst(profiles: string): Promise<string> {
  const files = shopOf(profiles)
  const [first] = await offered(await openShop(files), `${ROOT}a.media.yaml`)
  if (!first) return 'nothing'
  const changed = [...after(files, first)].filter(([file, text]) => files.get(file) !== text)
  return `${first.title}\n${changed.map(([file, text]) => `#- ${file.slice(ROOT.length)}\n${text}`).join('')}`
}

describe('the sample shop', () => {
  const files: Files = new Map(
    samples()
      .filter(({ name }) => name.startsWith('tern-quay/'))
      .map(({ name, text }) => [`${ROOT}${name.slice('tern-quay/'.length)}`, text]),
  )
  const profiles = [...files.keys()].filter((file) => kindOfFile(file) === 'media')
  let shop: Analysis
  const before = new Map<string, Awaited<ReturnType<typeof told>>>()
  beforeAll(async () => {
    shop = await openShop(files)
    for (const file of profiles) before.set(file, await told(shop, file))
  })

  test('every setting, reading, day and remark of every profile is as before, whichever base is made', async () => {
    let made = 0
    for (const file of profiles)
      for (const action of await offered(shop, file)) {
        made++
        const changed = after(files, action)
        const analysis = await openShop(changed)
        for (const one of profiles) expect(await told(analysis, one), `${action.title}: ${one}`).toEqual(before.get(one))
        const kept = [...changed.values()].flatMap(remarks).join('\n')
        for (const text of files.values()) for (const words of remarks(text)) expect(kept).toContain(words)
        await told(analysis, action.makes!.file)
        const context = analysis.context(action.makes!.file)!
        expect(
          context.findings().filter(({ severity }) => severity === 'error'),
          action.makes!.text,
        ).toEqual([])
        expect(action.makes!.text).not.toContain('feed')
        expect(evidenceIn(context.document as RollDocument<'media'>)).toEqual([])
        // What has a base is not asked again.
        expect(await offered(analysis, file)).toEqual([])
      }
    expect(made).toBeGreaterThan(10)
  })
})

test('lines, entries between braces and whole sections go, with their remarks, and what differs stays', async () => {
  expect(
    await afterFirst(`#- a.media.yaml
# Head.
profile: a
title: First
stock: film
printer: bay-1
mode: standard

# Computed: the smallest.
gap: 2.0 mm   # was 1.5

feed:
  correction: +0.1 %

# Warm.
heat:
  # By the sheet.
  platen: 40 °C

  # Blown.
  fan: true
suction: 3
web: { wound: out, tension: 2, speed: 60 mm/s }
carriage:
  strikes: 1
  # Seen on old prints.
  turn-at: print-edge
#- b.media.yaml
profile: b
stock: film
printer: bay-1
mode: fine
gap: 2 mm # was 1.5
feed: { correction: +0.1 % }
suction: 2

# Warm.
heat: { platen: 104 °F, fan: true }

web: { wound: out, tension: 1, speed: 60 mm/s }
carriage: { turn-at: print-edge, strikes: 2 }
`),
  ).toMatchInlineSnapshot(`
    "Put 6 settings that 2 profiles share into a base, film-bay-1-base
    #- a.media.yaml
    # Head.
    profile: a
    title: First
    base: film-bay-1-base

    feed:
      correction: +0.1 %

    suction: 3
    web: { tension: 2 }
    carriage:
      strikes: 1
    #- b.media.yaml
    profile: b
    base: film-bay-1-base
    mode: fine
    feed: { correction: +0.1 % }
    suction: 2

    web: { tension: 1 }
    carriage: { strikes: 2 }
    #- film-bay-1-base.media.yaml
    # What a and b have in common.
    profile: film-bay-1-base
    # A base has to name them: mode as in a, the others give their own.
    stock: film
    printer: bay-1
    mode: standard
    # a: Computed: the smallest.
    # a: was 1.5
    # b: was 1.5
    gap: 2.0 mm

    # Warm.
    heat:
      # a: By the sheet.
      platen: 40 °C
      # a: Blown.
      fan: true

    carriage:
      # a: Seen on old prints.
      turn-at: print-edge

    web:
      wound: out
      speed: 60 mm/s
    "
  `)
})

test('nothing where too little is shared, where a text has mistakes, and where nobody else is', async () => {
  const head = (id: string, more: string): string =>
    `#- ${id}.media.yaml\nprofile: ${id}\nstock: film\nprinter: bay-1\nmode: standard\n${more}`
  const same = 'gap: 2 mm\nsuction: 3\n'
  expect(await afterFirst(head('a', same))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', 'gap: 2 mm\nsuction: 2\n'))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', `${same}heat: [\n`))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', `${same}retired: 2026-01-01\n`))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', same).replace('mode: standard', 'base: a'))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', 'gap: &g 2 mm\nx-gap: *g\nsuction: 3\n'))).toBe('nothing')
  expect(await afterFirst(head('a', same) + head('b', same))).toMatch(
    /^Put 2 settings that 2 profiles share into a base, film-bay-1-base/,
  )
})
