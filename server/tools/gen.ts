// Writes every generated file of the project (`npm run gen`), or with --check lists the ones that are stale and exits with 1.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { generateAreaIndexes } from './area-index.ts'
import { generateExplain } from './explain.ts'
import { generatedFiles } from './generate.ts'
import { GRAMMAR, withUnits } from './grammar.ts'
import { generateMethodsTable } from './methods-table.ts'
import { generateQuantitiesPage } from './quantities-page.ts'
import { generateRuleIndex } from './rule-index.ts'
import { generateRulesPage } from './rules-page.ts'

const ROOT = fileURLToPath(new URL('../../', import.meta.url))
const CHECK = process.argv.includes('--check')

// In this order: the page of rules is made from the rules, which need the index and everything before it.
let stale = 0
for (const generate of [
  () => [...generatedFiles()].map(([path, text]) => ({ path, text })),
  () => [{ path: GRAMMAR, text: withUnits(readFileSync(ROOT + GRAMMAR, 'utf8')) }],
  generateExplain,
  generateAreaIndexes,
  generateRuleIndex,
  generateRulesPage,
  generateQuantitiesPage,
  generateMethodsTable,
]) {
  for (const { path, text } of await generate()) {
    const file = ROOT + path
    if (existsSync(file) && readFileSync(file, 'utf8') === text) continue
    stale++
    process.stdout.write(`${CHECK ? 'stale' : 'written'}: ${path}\n`)
    if (CHECK) continue
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, text)
  }
}
if (CHECK && stale > 0) process.exitCode = 1
