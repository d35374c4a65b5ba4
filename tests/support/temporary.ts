// All that tests put into the folder for temporary files goes with the run, also what no test takes away again: a worker serves many files, and of what they
// share only the first would clear up.
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const folders: string[] = []

export function setup(): void {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-tests-'))
  // Some tests are run as somebody else.
  chmodSync(folder, 0o755)
  folders.push(folder)
  process.env.TMPDIR = folder
}

export function teardown(): void {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
}
