// Programs that a test needs and that are no packages of ours: installed where that is allowed, which is as root on a Debian.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'

/** Installs Debian packages, waiting for whoever installs at the same time; does nothing where that is not allowed. */
export function installPackages(...names: readonly string[]): void {
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return
  process.stdout.write(`== installing ${names.join(', ')}\n`)
  const apt = (...args: readonly string[]) =>
    spawnSync('apt-get', ['-qq', '-o', 'DPkg::Lock::Timeout=300', ...args], { stdio: 'inherit' })
  apt('update')
  apt('install', '-y', '--no-install-recommends', ...names)
}
