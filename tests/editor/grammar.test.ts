// The grammar's assertions in grammar/*.txt, tokenised as the editor does it: our grammar over the YAML grammar that VS Code ships.
import { execFile } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { expect, test } from 'vitest'
import { installed } from './host/setup.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const CASES = join(import.meta.dirname, 'grammar')

const yaml = join(installed(), 'vscode', 'extensions', 'yaml', 'syntaxes')
const grammars = readdirSync(yaml).flatMap((file) => ['--grammar', join(yaml, file)])

test.each(readdirSync(CASES))('%s', async (file) => {
  const runner = join(ROOT, 'node_modules', '.bin', 'vscode-tmgrammar-test')
  const result = await promisify(execFile)(runner, [...grammars, join(CASES, file)], { cwd: ROOT }).catch((error) => error)
  expect(result.stdout).toMatch(/run successfuly/)
  expect(result.code ?? 0).toBe(0)
})
