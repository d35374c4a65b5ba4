// Writes every generated file of the project, or with --check lists the ones that are stale and exits with 1.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { generateRuleIndex } from './rule-index.ts'

const ROOT = fileURLToPath(new URL('../../', import.meta.url))

const stale: string[] = []
for (const { path, text } of generateRuleIndex()) {
  const file = ROOT + path
  if (existsSync(file) && readFileSync(file, 'utf8') === text) continue
  stale.push(path)
  if (process.argv.includes('--check')) continue
  mkdirSync(dirname(file), { recursive: true })
  writeFileSync(file, text)
}
for (const path of stale) process.stdout.write(`${process.argv.includes('--check') ? 'stale' : 'written'}: ${path}\n`)
if (process.argv.includes('--check') && stale.length) process.exitCode = 1
