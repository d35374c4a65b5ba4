// All that tests put into the folder for temporary files goes with the run, also what no test takes away again: a worker serves many files, and of what they
// share only the first would clear up.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export default function setup(): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-tests-'))
  process.env.TMPDIR = folder
  return () => rmSync(folder, { recursive: true, force: true })
}
