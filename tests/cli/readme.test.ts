// What README.md says can be done: the least of each document makes a shop that checks without an error or a warning.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ran } from './shell.ts'

const README = readFileSync(join(import.meta.dirname, '..', '..', 'README.md'), 'utf8')

/** The documents shown, each under the name that its first line gives. */
const LEAST = [...README.matchAll(/```yaml\n# ([\w.-]+\.yaml)[^\n]*\n([^`]*)```/g)].map(([, name, text]) => `#- ${name}\n${text}`)

test('the least of each document makes a shop', async () => {
  expect(LEAST).toHaveLength(4)
  const { out, code } = await ran('check', LEAST.join(''))
  expect(out).not.toMatch(/\b(?:error|warning) [a-z]/)
  expect(out).toContain('4 documents checked: 0 errors, 0 warnings')
  expect(code).toBe(0)
})

test('a profile can be started from it', async () => {
  const { out } = await ran('start --stock banner-510 --printer bay-1 --id another', LEAST.join(''))
  expect(out).toMatch(/^profile: another$/m)
})
