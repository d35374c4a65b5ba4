// The shop in a folder of samples as a workspace, with its profiles loaded: for generators, and for tests over all that there is.
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { MemoryHost } from '../src/host/memory.ts'
import type { RollDocument } from '../src/model/document.ts'
import type { Setup } from '../src/model/setup.ts'
import { kindOfFile } from '../src/schema/schema.ts'
import { Workspace } from '../src/workspace/workspace.ts'

const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url))
const ROOT = 'file:///shop/'

/** The day the samples are read as on. */
const TODAY = '2026-11-25'

/** `shop` is a folder of samples/; `files` are its profiles. */
export async function sampleWorkspace(shop: string): Promise<{ workspace: Workspace; files: readonly string[] }> {
  const folder = `${SAMPLES}${shop}/`
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .sort()
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
  for (const file of files) await profileOf(workspace, file)
  return { workspace, files }
}

/** A profile with all that it rests on. Of many documents a workspace keeps the ones asked for last: so each is asked for just before it is used. */
export async function profileOf(workspace: Workspace, file: string): Promise<RollDocument> {
  await workspace.load(file)
  await workspace.prepare(file)
  const document = workspace.document(file)
  if (!document) throw new Error(`${file} is not there`)
  return document
}

export async function sampleSetups(shop: string): Promise<readonly Setup[]> {
  const { workspace, files } = await sampleWorkspace(shop)
  const setups: Setup[] = []
  for (const file of files) {
    const setup = workspace.setup(await profileOf(workspace, file))
    if (setup) setups.push(setup)
  }
  return setups
}
