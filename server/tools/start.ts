// `npm start`: builds, then shows the command line at work on the sample shop. Exit status 0 when both commands ran to their end:
// findings in a sample are what a check is for, so its status 1 (findings) counts as run.
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'

const ROOT = join(import.meta.dirname, '..', '..')
const SHOP = join('samples', 'tern-quay')
/** The day the samples are written for: later on, every check in them would be old. */
const TODAY = '2026-11-25'

run(process.execPath, ['--import', 'tsx', join('server', 'tools', 'build.ts'), '--quiet'], [0])
rollbook('check', SHOP, '--today', TODAY)
rollbook('feed', join(SHOP, 'profiles', 'banner-510-bay-1.media.yaml'), '--today', TODAY)

function rollbook(...args: string[]): void {
  process.stdout.write(`\n> rollbook ${args.join(' ')}\n`)
  run(process.execPath, [join('dist', 'rollbook.cjs'), ...args], [0, 1])
}

function run(command: string, args: readonly string[], fine: readonly number[]): void {
  const { status, error } = spawnSync(command, args, { cwd: ROOT, stdio: 'inherit' })
  if (error) throw error
  if (status === null || !fine.includes(status)) process.exit(status ?? 1)
}
