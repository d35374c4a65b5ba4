// Writes the index of rules from the files in server/src/rules and in the rules folder of each area: a rule is added by adding its file.
import { existsSync, readdirSync } from 'node:fs'
import { AREAS } from '../src/areas/order.ts'

const SOURCE = new URL('../src/', import.meta.url)

const NO_RULES: ReadonlySet<string> = new Set(['rule.ts', 'run.ts'])

/** Every rule by its code, with its file as seen from server/src. */
export function ruleFiles(): ReadonlyMap<string, string> {
  const folders = ['rules', ...AREAS.map((area) => `areas/${area}/rules`)].filter((folder) => existsSync(new URL(folder, SOURCE)))
  const files = folders.flatMap((folder) =>
    readdirSync(new URL(folder, SOURCE))
      .filter((name) => name.endsWith('.ts') && !NO_RULES.has(name))
      .map((name): [string, string] => [name.slice(0, -3), `${folder}/${name}`]),
  )
  return new Map(files.sort(([a], [b]) => (a < b ? -1 : 1)))
}

const variable = (code: string): string => code.replace(/-([a-z0-9])/g, (_, c: string) => c.toUpperCase())

/** The generated index: every rule file by the area that it is of, and all of them by their codes. */
export function generateRuleIndex(): { path: string; text: string }[] {
  const rules = [...ruleFiles()]
  const areas = [...AREAS, 'documents'].map((area) => {
    const own = rules.filter(([, file]) => (area === 'documents' ? file.startsWith('rules/') : file.startsWith(`areas/${area}/`)))
    return [area, own.map(([code]) => variable(code))] as const
  })
  const text = [
    '// Generated from the files of server/src/rules and server/src/areas/*/rules by `npm run gen`. Do not edit.',
    "import type { Rule } from '../rule.ts'",
    ...rules.map(([code, file]) => `import { rule as ${variable(code)} } from '../../${file}'`.replace('../../rules/', '../')),
    '',
    '/** In the order of the areas; last, those of no area: syntax, structure and references. */',
    'export const RULE_AREAS: Readonly<Record<string, readonly Rule[]>> = {',
    ...areas
      .filter(([, own]) => own.length > 0)
      .map(([area, own]) => `  ${area}: [\n${own.map((rule) => `    ${rule},\n`).join('')}  ],`),
    '}',
    '',
    '/** By their codes. */',
    'export const RULES: readonly Rule[] = Object.values(RULE_AREAS)',
    '  .flat()',
    '  .sort((a, b) => (a.code < b.code ? -1 : 1))',
    '',
  ].join('\n')
  return [{ path: 'server/src/rules/generated/index.ts', text }]
}
