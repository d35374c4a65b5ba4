// Writes the index of rules from the files in server/src/rules: a rule is added by adding its file.
import { readdirSync } from 'node:fs'

const FOLDER = new URL('../src/rules/', import.meta.url)

/** The generated index: every rule file, by its code. */
export function generateRuleIndex(): { path: string; text: string }[] {
  const codes = readdirSync(FOLDER)
    .filter((name) => name.endsWith('.ts') && name !== 'rule.ts' && name !== 'run.ts')
    .map((name) => name.slice(0, -3))
    .sort()
  const variable = (code: string): string => code.replace(/-([a-z0-9])/g, (_, c: string) => c.toUpperCase())
  const text = [
    '// Generated from the files of server/src/rules by `npm run gen`. Do not edit.',
    "import type { Rule } from '../rule.ts'",
    ...codes.map((code) => `import { rule as ${variable(code)} } from '../${code}.ts'`),
    '',
    'export const RULES: readonly Rule[] = [',
    ...codes.map((code) => `  ${variable(code)},`),
    ']',
    '',
  ].join('\n')
  return [{ path: 'server/src/rules/generated/index.ts', text }]
}
