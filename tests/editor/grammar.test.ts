// The grammar, tokenised as the editor does it: ours over the YAML grammar that VS Code ships. What is coloured is written down as
// assertions in grammar/*.txt; that no unit is forgotten is asserted for the whole table of units.
import { execFile } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { expect, test } from 'vitest'
import { UNITS } from '../../server/src/quantities/units.ts'
import { installed } from './host/setup.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const CASES = join(import.meta.dirname, 'grammar')

test.each(readdirSync(CASES))('%s', async (file) => {
  expect(await tokenise(join(CASES, file))).toMatch(/run successfuly/)
})

test('every spelling of every unit', async () => {
  const lines = UNITS.flatMap(({ spellings }) => spellings).flatMap((unit) => [
    `gap: 1.5 ${unit} # a comment`,
    '#    ^^^ constant.numeric.quantity.rollbook',
    `#        ${'^'.repeat(unit.length)} keyword.other.unit.rollbook`,
  ])
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-grammar-'))
  try {
    const file = join(folder, 'units.txt')
    writeFileSync(file, ['# SYNTAX TEST "source.rollbook" "units"', ...lines, ''].join('\n'))
    expect(await tokenise(file)).toMatch(/run successfuly/)
  } finally {
    rmSync(folder, { recursive: true })
  }
})

/** Runs the assertions of one file: what the runner prints, failures included. */
async function tokenise(file: string): Promise<string> {
  const yaml = join(installed(), 'vscode', 'extensions', 'yaml', 'syntaxes')
  const grammars = readdirSync(yaml).flatMap((name) => ['--grammar', join(yaml, name)])
  const runner = join(ROOT, 'node_modules', '.bin', 'vscode-tmgrammar-test')
  const { stdout } = await promisify(execFile)(runner, [...grammars, file], { cwd: ROOT }).catch((error) => error)
  return stdout
}
