// Every document of samples/broken shows one mistake: what is told of it is checked in beside it, as a person sees it.
// UPDATE=1 writes the expected texts anew; read them like a technician before you commit them.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { renderFindings } from '../support/render.ts'

const FOLDER = fileURLToPath(new URL('../../samples/broken/', import.meta.url))
const TODAY = '2026-11-25'

const NAMES = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => kindOfFile(name) !== undefined)
  .sort()

const FILES = new Map(NAMES.map((name) => [ROOT + name, readFileSync(FOLDER + name, 'utf8')]))

for (const name of NAMES) {
  test(name, async () => {
    const told = `${await findingsOf(name)}\n`
    const expected = `${FOLDER}expected/${name.replace(/\.yaml$/, '').replaceAll('/', '-')}.txt`
    if (process.env.UPDATE) {
      mkdirSync(`${FOLDER}expected`, { recursive: true })
      writeFileSync(expected, told)
    }
    expect(existsSync(expected), `${expected} is missing; UPDATE=1 writes it`).toBe(true)
    expect(told).toBe(readFileSync(expected, 'utf8'))
  })
}

test('every expected text belongs to a document', () => {
  const known = new Set(NAMES.map((name) => `${name.replace(/\.yaml$/, '').replaceAll('/', '-')}.txt`))
  expect(readdirSync(`${FOLDER}expected`).filter((name) => !known.has(name))).toEqual([])
})

async function findingsOf(name: string): Promise<string> {
  const file = ROOT + name
  const text = FILES.get(file)!
  const workspace = new Workspace(new MemoryHost(new Map(FILES), TODAY))
  await workspace.addFolder(ROOT)
  workspace.update(file, text)
  await workspace.prepare(file)
  return renderFindings(text, new Analysis(workspace, true).findings(file)) || 'nothing to tell'
}
