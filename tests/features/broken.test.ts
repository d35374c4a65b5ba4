// Every document of samples/broken shows one mistake: what is told of it is checked in beside it, as a person sees it.
// UPDATE=1 writes the expected texts and the table of samples/broken/README.md anew; read them like a technician before you commit them.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { beforeAll, expect, test } from 'vitest'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { iccBytes } from '../support/icc.ts'
import { renderFindings } from '../support/render.ts'

const FOLDER = fileURLToPath(new URL('../../samples/broken/', import.meta.url))
const TODAY = '2026-11-25'

/** Rules that no sample shows: this one needs a file of more than 2 MB. */
const SHOWN_NOWHERE = ['too-large']

const NAMES = readdirSync(FOLDER, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => kindOfFile(name) !== undefined)
  .sort()

const FILES = new Map(NAMES.map((name) => [ROOT + name, readFileSync(FOLDER + name, 'utf8')]))

/** The ICC profiles of the samples: a header and a table of tags, made here. */
const ICC: Readonly<Record<string, Uint8Array>> = {
  'colour/film.icc': iccBytes({ space: 'CMYK', description: 'Gloss cast film, invented' }),
  'colour/cut.icc': iccBytes({ space: 'CMYK' }).subarray(0, 200),
  'colour/screen.icc': iccBytes({ deviceClass: 'mntr', space: 'RGB', connection: 'XYZ', tags: ['desc'] }),
  'colour/six-inks.icc': iccBytes({ space: '6CLR' }),
}

/** The files under `colour/` that the documents there name. */
const COLOUR_FILES = new Map(
  readdirSync(`${FOLDER}colour`, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(?:txt|icc)$/.test(name))
    .map((name) => `colour/${name.replaceAll('\\', '/')}`)
    .map((name) => [ROOT + name, new Uint8Array(readFileSync(FOLDER + name))]),
)

const workspace = new Workspace(new MemoryHost(FILES, TODAY, COLOUR_FILES))
const analysis = new Analysis(workspace, true)
beforeAll(() => workspace.addFolder(ROOT))

for (const name of NAMES) {
  test(name, async () => {
    const told = `${await findingsOf(name)}\n`
    const expected = expectedOf(name)
    if (process.env.UPDATE) {
      mkdirSync(`${FOLDER}expected`, { recursive: true })
      writeFileSync(expected, told)
    }
    expect(existsSync(expected), `${expected} is missing; UPDATE=1 writes it`).toBe(true)
    expect(told).toBe(readFileSync(expected, 'utf8'))
  })
}

test('the ICC profiles are those that are made for it', () => {
  for (const [name, bytes] of Object.entries(ICC)) {
    if (process.env.UPDATE) writeFileSync(FOLDER + name, bytes)
    expect([...readFileSync(FOLDER + name)], name).toEqual([...bytes])
  }
})

test('every expected text belongs to a document', () => {
  const known = new Set(NAMES.map((name) => expectedOf(name)))
  expect(readdirSync(`${FOLDER}expected`).filter((file) => !known.has(`${FOLDER}expected/${file}`))).toEqual([])
})

test('every rule is shown by a document', () => {
  const shown = new Set(NAMES.flatMap(codesShown))
  expect(RULES.map((rule) => rule.code).filter((code) => !shown.has(code))).toEqual(SHOWN_NOWHERE)
})

test('a document that is named after a rule shows it', () => {
  const codes = new Set(RULES.map((rule) => rule.code))
  expect(NAMES.filter((name) => codes.has(stemOf(name)) && !codesShown(name).includes(stemOf(name)))).toEqual([])
})

test('the table says which document shows which rule', () => {
  const file = `${FOLDER}README.md`
  const text = readFileSync(file, 'utf8')
  const start = text.indexOf('| code |')
  const written = `${text.slice(0, start)}${table()}`
  if (process.env.UPDATE) writeFileSync(file, written)
  expect(readFileSync(file, 'utf8')).toBe(written)
})

async function findingsOf(name: string): Promise<string> {
  const file = ROOT + name
  const text = FILES.get(file)!
  workspace.update(file, text)
  await workspace.prepare(file)
  const told = renderFindings(text, analysis.findings(file))
  await workspace.close(file)
  return told || 'nothing to tell'
}

const expectedOf = (name: string): string => `${FOLDER}expected/${name.replace(/\.yaml$/, '').replaceAll('/', '-')}.txt`

/** `heat/web-too-hot.media.yaml` gives `web-too-hot`; a shop's document goes by its folder. */
const stemOf = (name: string): string => /([^/]+)(?:\/rollbook\.yaml|\.\w+\.yaml)$/.exec(name)?.[1] ?? name

const codesShown = (name: string): readonly string[] =>
  [...readFileSync(expectedOf(name), 'utf8').matchAll(/\^ (?:error|warning|hint)\[([a-z-]+)\]: /g)].map((match) => match[1]!)

/** One row a rule: its code, the document that is named after it or else the first that shows it, and what it tells. */
function table(): string {
  const rows = RULES.map(({ code, summary }) => {
    const showing = NAMES.filter((name) => codesShown(name).includes(code))
    const name = showing.find((n) => stemOf(n) === code) ?? showing[0]
    return `| \`${code}\` | ${name ? `[${name}](${name})` : SHOWN_NOWHERE.includes(code) ? 'none: it needs a file of more than 2 MB' : 'none yet: it wants a document here that is named after it'} | ${summary} |\n`
  })
  return `| code | document | what is told |\n| --- | --- | --- |\n${rows.join('')}`
}
