// Setups of every sort there is: all profiles of the sample shop and of the broken samples, and those of the rules' examples.
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { Setup } from '../../server/src/model/setup.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { openFixture, parseFixture, ROOT } from './fixture.ts'

export const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url))
/** The day the samples are read as on. */
const TODAY = '2026-11-25'

/** What neither has. */
const OTHERS: readonly string[] = [
  // An ink that light sets: none of it evaporates, whatever else is not known.
  `#- e.media.yaml
profile: e
printer: p
mode: m
#- p.printer.yaml
printer: p
ink: {base: uv}
modes:
  m: {resolution: 720 x 360 dpi, passes: 4}
`,
]

export async function allSetups(): Promise<readonly Setup[]> {
  const shops = await Promise.all(['tern-quay', 'broken'].map((folder) => setupsBelow(`${SAMPLES}${folder}/`)))
  const examples = RULES.filter(({ kinds }) => kinds.includes('media')).flatMap((rule) => rule.examples)
  const ofExamples = await Promise.all(
    [...examples.map(({ text }) => text), ...OTHERS].map(async (text) => {
      const fixture = parseFixture(text)
      const { workspace } = await openFixture(fixture)
      const document = workspace.document(fixture.file)
      return document && workspace.setup(document)
    }),
  )
  return [...shops.flat(), ...ofExamples.filter((setup) => setup !== undefined)]
}

async function setupsBelow(folder: string): Promise<readonly Setup[]> {
  const { workspace, files } = await sampleWorkspace(folder)
  return files.flatMap((file) => {
    const document = workspace.document(file)
    return (document && workspace.setup(document)) ?? []
  })
}

/** The shop in a folder of samples, with its profiles loaded. */
export async function sampleWorkspace(folder: string): Promise<{ workspace: Workspace; files: readonly string[] }> {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'))
  const documents = names.filter((name) => kindOfFile(name))
  const others = names.filter((name) => /\.(?:txt|icc)$/.test(name))
  const host = new MemoryHost(
    new Map(documents.map((name) => [ROOT + name, readFileSync(folder + name, 'utf8')])),
    TODAY,
    new Map(others.map((name) => [ROOT + name, new Uint8Array(readFileSync(folder + name))])),
  )
  const workspace = new Workspace(host)
  await workspace.addFolder(ROOT)
  const files = documents.filter((name) => kindOfFile(name) === 'media').map((name) => ROOT + name)
  for (const file of files) {
    await workspace.load(file)
    await workspace.prepare(file)
  }
  return { workspace, files }
}
