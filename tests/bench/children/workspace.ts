// Run as a process of its own: reads a folder of documents either through our workspace, or as bare parsing of the same bytes does,
// and tells what that took and what it holds afterwards. Arguments: `index` or `bare`, and the folder.
import { readFile } from 'node:fs/promises'
import { parseDocument } from 'yaml'
import { fileUri, NodeHost } from '../../../server/src/host/node.ts'
import { Workspace } from '../../../server/src/workspace/workspace.ts'

const [what, folder] = process.argv.slice(2) as ['index' | 'bare', string]
const collect = (): { heap: number; rss: number } => {
  for (let i = 0; i < 3; i++) globalThis.gc?.()
  const { heapUsed, rss } = process.memoryUsage()
  return { heap: heapUsed / 1e6, rss: rss / 1e6 }
}

const before = collect()
const wallStart = performance.now()
const cpuStart = process.cpuUsage()
const held = what === 'index' ? await index() : await bare()
const { user, system } = process.cpuUsage(cpuStart)
const wall = performance.now() - wallStart
const after = collect()
process.stdout.write(
  JSON.stringify({
    wall,
    cpu: (user + system) / 1000,
    documents: held.documents,
    heap: after.heap - before.heap,
    rss: after.rss,
  }),
)

async function index(): Promise<{ documents: number; workspace: Workspace }> {
  const workspace = new Workspace(new NodeHost())
  const root = `${fileUri(folder)}/`
  await workspace.addFolder(root)
  const shelf = workspace.shelf(`${root}rollbook.yaml`)
  let documents = 0
  for (const kind of ['media', 'stock', 'printer', 'shop'] as const) for (const _ of shelf.all(kind)) documents++
  return { documents, workspace }
}

/** The same files, listed and read the same way, each parsed and let go. */
async function bare(): Promise<{ documents: number }> {
  const files = await new NodeHost().list(fileUri(folder))
  let documents = 0
  for (let i = 0; i < files.length; i += 64) {
    const texts = await Promise.all(files.slice(i, i + 64).map((file) => readFile(new URL(file), 'utf8')))
    for (const text of texts) if (parseDocument(text).contents) documents++
  }
  return { documents }
}
