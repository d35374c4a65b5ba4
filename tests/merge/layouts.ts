// `npx tsx tests/merge/layouts.ts [--pairs 1000] [--seed 8] [--algorithm myers]`: what a plain text merge does to two branches that both record evidence,
// in each layout there is, as the Markdown of DEVELOPERS.md.
import { parseArgs } from 'node:util'
import type { Pair } from './habits.ts'
import { CHOSEN, type Layout } from './layout.ts'
import { measure, pairsOf, statesAlone, type Tally, type Width, widths } from './measure.ts'

const { values: options } = parseArgs({
  options: {
    pairs: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '8' },
    algorithm: { type: 'string', default: 'histogram' },
  },
})
const algorithm = options.algorithm === 'myers' ? 'myers' : 'histogram'
const print = (line: string): unknown => process.stdout.write(`${line}\n`)

const FORMS = {
  line: 'flow line',
  wrapped: 'flow, wrapped',
  block: 'block',
  'by state': 'lines by state',
  'by day': 'lines by day',
}
const CHECKS = ['line', 'wrapped', 'block', 'by state', 'by day'] as const
const STATES = ['line', 'wrapped', 'block'] as const
const WAYS = { text: 'git alone', union: 'both kept', fix: 'our fix' } as const

const pairs = pairsOf(Number(options.seed), Number(options.pairs))

/** A row a layout: for each way what is left with markers, right, told, and silent (mislabelled, lost, doubled) without and with the rules. */
function table(of: 'checks' | 'states', merged: readonly Pair[], layouts: readonly Layout[]): void {
  print(`| ${of} | way | conflict | clean | told | silent | with the rules | columns: median, longest | lines |`)
  print('| --- | --- | --: | --: | --: | --: | --: | --: | --: |')
  const chosen: string[] = []
  for (const layout of layouts) {
    const [ways, width] = [measure(merged, layout, algorithm), widths(pairs, layout)[of]]
    for (const way of ['text', 'union', 'fix'] as const) {
      const head = way === 'text' ? nameOf(layout, of) : ''
      print(`| ${[head, WAYS[way], ...cells(ways[way]), ...(way === 'text' ? widthCells(width) : ['', ''])].join(' | ')} |`)
      if (JSON.stringify(layout) === JSON.stringify(CHOSEN)) chosen.push(`- ${WAYS[way]}: ${problemsOf(ways[way])}`)
    }
  }
  print(`\nTold in the layout of the format:\n${chosen.join('\n')}\n`)
}

function nameOf({ checks, newestCheck, states, newState }: Layout, of: 'checks' | 'states'): string {
  if (of === 'checks') return `${FORMS[checks]}, newest ${newestCheck}`
  return `${FORMS[states]}, ${newState === 'by name' ? newState : `newest ${newState}`}`
}

const cells = ({ conflict, told, silent, silentWithoutRules }: Tally): readonly (string | number)[] => [
  conflict,
  silentWithoutRules.clean,
  told,
  fates(silentWithoutRules),
  fates(silent),
]

const fates = ({ mislabelled, lost, doubled, alike }: Tally['silent']): string =>
  `${mislabelled} / ${lost} / ${doubled}${alike > 0 ? ` (${alike} alike)` : ''}`

const problemsOf = ({ problems, falselyTold }: Tally): string =>
  [...problems, ['told of where all is right', falselyTold] as const].map(([problem, count]) => `${problem} ${count}`).join(' · ')

const widthCells = ({ median, longest, lines }: Width): readonly string[] => [`${median}, ${longest}`, lines.toFixed(1)]

print(
  `${pairs.length} pairs a layout, seed ${options.seed}, diff algorithm ${algorithm}. Silent: mislabelled / lost / doubled.\n`,
)
const checks = CHECKS.flatMap((form) =>
  (['last', 'first'] as const).map((newestCheck) => ({ ...CHOSEN, checks: form, newestCheck })),
)
const states = STATES.flatMap((form) =>
  (['last', 'first', 'by name'] as const).map((newState) => ({ ...CHOSEN, states: form, newState })),
)
table('checks', pairs, checks)
table('states', pairs.map(statesAlone), states)
