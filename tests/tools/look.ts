// A quick look at the findings of a folder, for whoever works on rules: npx tsx tests/tools/look.ts samples/tern-quay [date].
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { fileUri, NodeHost } from '../../server/src/host/node.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { renderFindings } from '../support/render.ts'

const [folder = 'samples/tern-quay', today = '2026-11-25'] = process.argv.slice(2)
const host = new NodeHost()
host.today = () => today
const workspace = new Workspace(host)
const root = fileUri(folder)
await workspace.addFolder(root)
const analysis = new Analysis(workspace, true)
for (const file of [...(await host.list(root))].sort()) {
  workspace.update(file, readFileSync(fileURLToPath(file), 'utf8'))
  await workspace.prepare(file)
  const shown = renderFindings(workspace.document(file)!.text, analysis.findings(file))
  process.stdout.write(`── ${file.slice(root.length + 1)}\n${shown ? `${shown}\n` : ''}`)
  await workspace.close(file)
}
