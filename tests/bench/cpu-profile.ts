// Says where a keystroke's time goes: the samples of a CPU profile, summed by the part of the server they fall into. A sample belongs to the
// innermost part on its stack: a rule's `check` and whatever it calls is that rule's, except where that calls another part in turn.
import { readFileSync } from 'node:fs'

interface Node {
  readonly id: number
  readonly callFrame: { readonly functionName: string; readonly url: string; readonly lineNumber: number }
  readonly children?: readonly number[]
}

interface Profile {
  readonly nodes: readonly Node[]
  readonly samples: readonly number[]
  readonly timeDeltas: readonly number[]
}

export interface Share {
  readonly part: string
  /** Milliseconds a keystroke. */
  readonly ms: number
}

/** The parts of a bundle whose names were kept, most costly first; `edits` divides the sums. */
export function shares(raw: unknown, bundle: string, edits: number): { parts: Share[]; functions: Share[] } {
  const profile = raw as Profile
  const moduleOfLine = moduleAtLine(bundle)
  const moduleOf = ({ callFrame: { url, lineNumber } }: Node): string => (url.endsWith(bundle) ? moduleOfLine(lineNumber) : url)
  const byId = new Map(profile.nodes.map((n) => [n.id, n]))
  const partOf = new Map<number, string>()
  const visit = (node: Node, above: string): void => {
    const part = partFor(node, moduleOf(node)) ?? above
    partOf.set(node.id, part)
    for (const child of node.children ?? []) visit(byId.get(child)!, part)
  }
  visit(profile.nodes[0]!, 'other')
  const parts = new Map<string, number>()
  const functions = new Map<string, number>()
  profile.samples.forEach((id, i) => {
    const ms = (profile.timeDeltas[i] ?? 0) / 1000 / edits
    const node = byId.get(id)!
    const part = partOf.get(id)!
    if (part === '(idle)') return
    parts.set(part, (parts.get(part) ?? 0) + ms)
    const name = `${node.callFrame.functionName || '(anonymous)'} ${moduleOf(node)}`
    functions.set(name, (functions.get(name) ?? 0) + ms)
  })
  return { parts: sorted(parts), functions: sorted(functions) }
}

/** Functions that begin a part, by name and the module they stand in. */
const PARTS: readonly [name: string, module: RegExp, part: string][] = [
  ['build', /syntax\/parse/, 'syntax: cut and parse'],
  ['findIssues', /model\/document/, 'structure: schema checks'],
  ['read', /model\/read/, 'model: typed values'],
  ['resolveSetup', /model\/setup/, 'setup: joined with stock, printer, shop'],
  ['reckon', /areas\/feed\/facts/, 'feed reckoning (first asked for by a rule)'],
  ['factsOf', /\bmodel\/facts/, 'workspace: facts'],
  ['shopOf', /\bworkspace.workspace\b/, 'workspace: which shop'],
  ['prepare', /\bworkspace.workspace\b/, 'workspace: what is missing'],
  ['toDiagnostic', /lsp\/to-proto/, 'protocol: diagnostics'],
  ['change', /lsp\/documents/, 'protocol: the text of the change'],
  ['runRules', /rules\/run/, 'rules: running them'],
  ['publish', /lsp\/publisher/, 'protocol: publishing'],
  ['tell', /lsp\/session/, 'protocol: sending'],
]

function partFor({ callFrame: { functionName } }: Node, module: string): string | undefined {
  if (functionName === '(idle)' || functionName === '(garbage collector)' || functionName === '(program)') return functionName
  if (functionName === 'check' && /server\/src\/(?:areas\/\w+\/)?rules\//.test(module))
    return `rule: ${/([^/]+)\.ts$/.exec(module)?.[1]}`
  const part = PARTS.find(([name, where]) => functionName.replace(/\d+$/, '') === name && where.test(module))
  if (part) return part[2]
  return /vscode-jsonrpc|vscode-languageserver/.test(module) ? 'protocol: reading and writing messages' : undefined
}

/** Which source module a line of the bundle came from: esbuild writes its path above each. */
function moduleAtLine(bundle: string): (line: number) => string {
  const starts: [line: number, module: string][] = []
  readFileSync(bundle, 'utf8')
    .split('\n')
    .forEach((text, line) => {
      const path = /^\s*\/\/ ((?:server|node_modules)\/\S+\.[cm]?[jt]s)$/.exec(text)?.[1]
      if (path) starts.push([line, path])
    })
  return (lineNumber) => {
    let low = 0
    for (let high = starts.length; low < high; ) {
      const middle = (low + high) >> 1
      if (starts[middle]![0] <= lineNumber) low = middle + 1
      else high = middle
    }
    return starts[low - 1]?.[1] ?? ''
  }
}

const sorted = (sums: ReadonlyMap<string, number>): Share[] =>
  [...sums].map(([part, ms]) => ({ part, ms })).sort((a, b) => b.ms - a.ms)
