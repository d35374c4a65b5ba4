// `npm start`: builds, then shows the command line at work on the sample shop. Exit status 0 when both commands ran to their end:
// findings in a sample are what a check is for, so its status 1 (findings) counts as run.
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'

const ROOT = join(import.meta.dirname, '..', '..')
const SHOP = join('samples', 'tern-quay')

run(process.execPath, ['--import', 'tsx', join('server', 'tools', 'build.ts'), '--quiet'], [0])
const profile = readdirSync(join(ROOT, SHOP), { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.media.yaml'))
  .sort()[0]
if (profile === undefined) throw new Error(`there is no profile in ${SHOP}`)
rollbook('check', SHOP)
rollbook('feed', join(SHOP, profile))

function rollbook(...args: string[]): void {
  process.stdout.write(`\n> rollbook ${args.join(' ')}\n`)
  run(process.execPath, [join('dist', 'rollbook.cjs'), ...args], [0, 1])
}

function run(command: string, args: readonly string[], fine: readonly number[]): void {
  const { status, error } = spawnSync(command, args, { cwd: ROOT, stdio: 'inherit' })
  if (error) throw error
  if (status === null || !fine.includes(status)) process.exit(status ?? 1)
}
