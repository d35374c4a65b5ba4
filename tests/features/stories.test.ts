// The stories of the sample shops: which word each profile ends in, and that nothing else is wrong with it. Its table in samples/README.md says the same.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { feedOf } from '../../server/src/areas/feed/facts.ts'
import { verdictOf } from '../../server/src/areas/feed/verdict.ts'
import { sampleSetups } from '../../server/tools/samples.ts'

const FOLDER = new URL('../../samples/', import.meta.url)

/** "proven", or "doubtful: stale", by profile. */
async function wordsOf(shop: string): Promise<Record<string, string>> {
  const words: Record<string, string> = {}
  for (const setup of await sampleSetups(shop)) {
    const { word, doubtful } = verdictOf(feedOf(setup))
    words[setup.own.profile!.value] = doubtful ? `${word}: ${doubtful}` : word
  }
  return words
}

describe('each profile ends in its word', () => {
  test('Tern Quay', async () => {
    expect(await wordsOf('tern-quay')).toMatchInlineSnapshot(`
      {
        "banner-510-bay-1": "off",
        "calendered-film-80-bay-1": "doubtful: suspect",
        "calendered-film-80-bay-2": "doubtful: between",
        "canvas-380-bay-2": "doubtful: between",
        "canvas-380-bay-3": "doubtful: between",
        "cast-film-gloss-50-bay-1": "proven",
        "cast-film-gloss-50-fine-bay-1": "doubtful: between",
        "cast-film-gloss-50-fine-one-way-bay-1": "unknown",
        "coated-paper-200-bay-2": "doubtful: not-comparable",
        "flag-polyester-110-bay-3": "doubtful: between",
        "knit-polyester-220-bay-3": "doubtful: between",
        "pet-film-clear-100-bay-1": "doubtful: stale",
        "pet-film-clear-100-bay-2": "carried",
        "pp-film-180-bay-1": "doubtful: read-back",
        "pp-film-180-bay-2": "doubtful: between",
        "uncoated-paper-120-bay-2": "unknown",
      }
    `)
  })

  test('Saltmarsh', async () => {
    expect(await wordsOf('saltmarsh')).toMatchInlineSnapshot(`
      {
        "banner-440-north": "proven",
        "banner-440-south": "doubtful: not-comparable",
        "film-90-north": "doubtful: not-comparable",
        "film-90-south": "unknown",
        "poster-150-attic": "off",
      }
    `)
  })

  test('every word has its story, and the README says which', async () => {
    const readme = readFileSync(new URL('README.md', FOLDER), 'utf8')
    const words = { ...(await wordsOf('tern-quay')), ...(await wordsOf('saltmarsh')) }
    const told = [...readme.matchAll(/^\| \**`([a-z0-9-]+)`\** \| .*?\*\*(unknown|doubtful|off|carried|proven)\b/gm)]
    for (const [, profile, word] of told) expect(words[profile!], profile).toMatch(new RegExp(`^${word}`))
    expect(new Set(told.map(([, , word]) => word))).toEqual(new Set(['unknown', 'doubtful', 'off', 'carried', 'proven']))
  })
})

test('the README names every profile', () => {
  const readme = readFileSync(new URL('README.md', FOLDER), 'utf8')
  const profiles = ['tern-quay', 'saltmarsh'].flatMap((shop) =>
    readdirSync(new URL(`${shop}/profiles/`, FOLDER)).flatMap((name) => /^(.*)\.media\.yaml$/.exec(name)?.[1] ?? []),
  )
  expect(profiles.filter((profile) => !readme.includes(`\`${profile}\``))).toEqual([])
})
