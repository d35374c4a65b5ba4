// Run as a process of its own: the core's parts by themselves, with tinybench. Arguments: the sample shop's folder and today's date.
import { Bench } from 'tinybench'
import { feedOf } from '../../../server/src/areas/feed/facts.ts'
import { fileUri, NodeHost } from '../../../server/src/host/node.ts'
import { LiveDocument } from '../../../server/src/model/document.ts'
import { resolveSetup } from '../../../server/src/model/setup.ts'
import { parseQuantity } from '../../../server/src/quantities/parse.ts'
import { runRules } from '../../../server/src/rules/run.ts'
import { SyntaxTree } from '../../../server/src/syntax/parse.ts'
import { Analysis } from '../../../server/src/workspace/analysis.ts'
import { Workspace } from '../../../server/src/workspace/workspace.ts'
import { placeOf } from '../keys.ts'
import { LONG_PROFILE, profile, profileOfLines } from '../texts.ts'

const [folder, day] = process.argv.slice(2) as [string, string]
const today = new Date(`${day}T12:00:00Z`)
const workspace = new Workspace(new NodeHost())
const root = `${fileUri(folder)}/`
const file = root + LONG_PROFILE
await workspace.addFolder(root)

/** CPU time: on a busy machine a wall clock would measure the others. It is too coarse for what takes microseconds. */
const cpuNow = (): number => {
  const { user, system } = process.cpuUsage()
  return (user + system) / 1000
}
const small = new Bench({ time: 400, warmupTime: 200 })
const bench = new Bench({ time: 400, warmupTime: 200, now: cpuNow })

small.add('parseQuantity "999.4 ±0.3 mm"', () => {
  parseQuantity('999.4 ±0.3 mm', 'length')
})
for (const lines of [120, 300, 2000]) {
  const [one, other] = pairOfTexts(profileOfLines(lines, today))
  let tree = SyntaxTree.parse(one)
  let turn = false
  bench.add(`SyntaxTree.update, ${lines} lines`, () => {
    turn = !turn
    tree = tree.update(turn ? other : one)
  })
}
for (const checks of [15, 1500]) {
  const text = profile({
    id: 'long-history-bay-1',
    stock: 'cast-film-gloss-50',
    printer: 'bay-1',
    checks,
    readings: 3,
    observed: 2,
    today,
  })
  const document = new LiveDocument(file, 'media', text)
  await opened(text)
  bench.add(`feedOf, ${checks} checks`, () => {
    feedOf(resolveSetup(document, workspace.shelf(file), day)!)
  })
}
for (const lines of [120, 300, 2000]) {
  const [one, other] = pairOfTexts(profileOfLines(lines, today))
  await opened(one)
  const own = new LiveDocument(file, 'media', one)
  if (lines === 120)
    small.add('resolveSetup, 120 lines', () => {
      resolveSetup(own, workspace.shelf(file), day)
    })
  type Input = Parameters<typeof runRules>[0]
  const inputOf = (document: LiveDocument<'media'>): Input => {
    const shelf = workspace.shelf(file)
    // Nothing that was reckoned before is kept.
    const setup = resolveSetup(document, shelf, day)!
    return { document, setup, shelf, today: day, strict: true }
  }
  let input: Input
  let edited = false
  const edit = (): void => {
    edited = !edited
    own.update(edited ? other : one)
    input = inputOf(own)
  }
  bench.add(`all rules after an edit, every calculation anew, ${lines} lines`, () => void runRules(input), { beforeEach: edit })
  const open = (): void => {
    input = inputOf(new LiveDocument(file, 'media', one))
  }
  bench.add(`all rules on a document just opened, ${lines} lines`, () => void runRules(input), { beforeEach: open })
  const analysis = new Analysis(workspace, true)
  let turn = false
  bench.add(`keystroke in the core, ${lines} lines`, () => {
    turn = !turn
    workspace.update(file, turn ? other : one)
    analysis.findings(file)
  })
  const at = placeOf(one, 'middle check')
  small.add(`hover, ${lines} lines`, () => {
    analysis.hover(file, at - 3)
  })
  small.add(`completion, ${lines} lines`, () => {
    analysis.completions(file, at + 3)
  })
}

await small.run()
await bench.run()
const rows = [...small.tasks, ...bench.tasks].map(({ name, result }) => {
  if (result.state !== 'completed') throw new Error(`${name}: ${'error' in result ? result.error : result.state}`)
  return { name, median: result.latency.p50, p99: result.latency.p99 }
})
process.stdout.write(JSON.stringify(rows))

/** A text and the same one with a digit more in its middle check. */
function pairOfTexts(text: string): [string, string] {
  const at = placeOf(text, 'middle check')
  return [text, `${text.slice(0, at)}4${text.slice(at)}`]
}

async function opened(text: string): Promise<void> {
  workspace.update(file, text)
  await workspace.prepare(file)
}
