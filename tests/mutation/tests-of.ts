// Which tests can see a source file: those that import it, however indirectly, the nearest first.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, join, posix } from 'node:path'

export const ROOT = join(import.meta.dirname, '..', '..')

export const read = (file: string): string => readFileSync(join(ROOT, file), 'utf8')

/** The TypeScript files that a folder, a file or a pattern with `*`, `**` and `{a,b}` names, without what is generated. */
export function filesOf(pattern: string): readonly string[] {
  const whole = /\.ts$/.test(pattern) ? pattern : `${pattern.replace(/\/+$/, '')}/**/*.ts`
  const regExp = whole.replace(/\*\*\/|[*{},.]/g, (part) => PARTS[part]!)
  return sources().filter((file) => new RegExp(`^${regExp}$`).test(file) && !/\/generated\/|\.d\.ts$|\.test\.ts$/.test(file))
}

const PARTS: Readonly<Record<string, string>> = { '**/': '(?:.*/)?', '*': '[^/]*', '{': '(?:', '}': ')', ',': '|', '.': '\\.' }

let listed: readonly string[] | undefined
function sources(): readonly string[] {
  listed ??= ['server/src', 'tests'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => posix.join(folder, name.replaceAll('\\', '/')))
      .sort(),
  )
  return listed
}

let graph: ReadonlyMap<string, readonly string[]> | undefined

/** Who imports a file, other than for its types. */
function importersOf(file: string): readonly string[] {
  graph ??= importers()
  return graph.get(file) ?? []
}

function importers(): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>()
  for (const file of sources())
    for (const [, target = ''] of read(file).matchAll(/^(?:import|export)\s+(?!type\b)(?:[^'"();]*?\sfrom\s+)?'(\.[^']+)'/gm)) {
      const imported = posix.join(posix.dirname(file), target)
      found.set(imported, [...(found.get(imported) ?? []), file])
    }
  return found
}

/** All files that come to a file by imports, by their distance; what `stop` holds for is reached and not passed through. */
function reaching(file: string, stop: (file: string) => boolean): readonly string[] {
  const reached = new Set([file])
  for (const at of reached) if (at === file || !stop(at)) for (const importer of importersOf(at)) reached.add(importer)
  return [...reached]
}

const RULES_TEST = 'tests/rules.test.ts'
const RULE = /\/rules\/([^/]+)\.ts$/

/** Tests at a file's own level: those that exist to test it. Any other file is judged by all that can see it. */
const OWN: readonly (readonly [source: RegExp, test: RegExp])[] = [
  [/\/calc\//, /^tests\/calculations\//],
  [/\/rules\//, /^tests\/(?:rules|features\/broken)\.test\.ts$/],
]

export interface TestFile {
  readonly file: string
  /** Which of its tests, by name; all without it. */
  readonly pattern?: string
}

/** The tests that judge a file, nearest first; `wide` asks for all that can see it. Tests of the editor and of bundles cannot. */
export function testsOf(file: string, { wide }: { wide: boolean }): readonly TestFile[] {
  const all = reaching(file, () => false).filter((test) => /^tests\/(?!editor\/|long\/).*\.test\.ts$/.test(test))
  const own = OWN.find(([source]) => source.test(file))?.[1]
  const ownTests = own
    ? all.filter((test) => own.test(test)).sort((a, b) => Number(b === RULES_TEST) - Number(a === RULES_TEST))
    : all
  const rest = wide ? all.filter((test) => !ownTests.includes(test)) : []
  return [...ownTests, ...rest].map((test) => (test === RULES_TEST ? { file: test, ...rulesThatUse(file) } : { file: test }))
}

/** In the table of all rules: the rules that come to the file, whose examples alone can see it. */
function rulesThatUse(file: string): { pattern?: string } {
  const codes = reaching(file, (at) => at.includes('/generated/'))
    .filter((at) => RULE.test(at) && existsSync(join(ROOT, at)) && read(at).includes('= defineRule('))
    .map((at) => basename(at, '.ts'))
  return codes.length === 0 || !/\/rules\//.test(file) ? {} : { pattern: `^(?:${codes.join('|')}) ` }
}
