// Reviews in memory: the files before and after in, the change set or its page out.
import { readdirSync, readFileSync } from 'node:fs'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { ChangeSet } from '../../server/src/review/change-set.ts'
import { pageOf } from '../../server/src/review/page.ts'
import { review, sideOf } from '../../server/src/review/review.ts'
import { reviewText } from '../../server/src/review/text.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'

const TODAY = '2026-03-31'

type Files = ReadonlyMap<string, string>

export async function reviewedFiles(before: Files, after: Files, today = TODAY): Promise<ChangeSet> {
  const side = (name: string, files: Files) => sideOf(name, new MemoryHost(new Map(files), today), ROOT)
  return review({ before: await side('before', before), after: await side('after', after), date: today })
}

/** The files of a fixture, with those of another written over them; one whose text is `GONE` is taken away. */
export function withFiles(files: Files, fixture: string): Files {
  const out = new Map(files)
  if (fixture === '') return out
  for (const [file, text] of parseFixture(fixture).files) {
    if (text.trim() === 'GONE') out.delete(file)
    else out.set(file, text)
  }
  return out
}

export function reviewed(before: string, after: string, today = TODAY): Promise<ChangeSet> {
  const { files } = parseFixture(before)
  return reviewedFiles(files, withFiles(files, after), today)
}

export const told = async (before: string, after: string, { all = false } = {}): Promise<string> =>
  reviewText(pageOf(await reviewed(before, after), { all }), (text) => text)

const SAMPLES = new URL('../../samples/tern-quay/', import.meta.url)

/** The sample shop with the colour files that it names. */
export function sampleShop(): Files {
  const names = readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'))
  const texts = names.filter((name) => kindOfFile(name) !== undefined || name.endsWith('.txt')).sort()
  return new Map(texts.map((name) => [ROOT + name, readFileSync(new URL(name, SAMPLES), 'utf8')]))
}
