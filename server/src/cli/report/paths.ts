// Paths as a CI host wants them: from the root of the repository, with '/' between folders. The host's own variable says where that is; without it
// the current folder is taken for the root.
import { isAbsolute, relative, resolve, sep } from 'node:path'
import type { CliHost } from '../host.ts'

/** The folders that CI hosts check out into, by the variable that names it. */
const ROOTS = ['GITHUB_WORKSPACE', 'CI_PROJECT_DIR'] as const

export function repositoryPath({ cwd, env }: CliHost, shown: string): string {
  for (const name of ROOTS) {
    const root = env[name]
    if (root === undefined || root === '') continue
    const way = relative(root, resolve(cwd, shown))
    if (way !== '' && !isAbsolute(way) && way !== '..' && !way.startsWith(`..${sep}`)) return way.split(sep).join('/')
  }
  return shown
}
