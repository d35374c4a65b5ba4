// The newest Node beside the one at hand: engines differ in how they compile, so what holds for one need not for the other.
import { execFileSync } from 'node:child_process'

export interface NewNode {
  readonly version: string
  readonly path: string
}

let found: NewNode | { readonly missing: string } | undefined

/** Node 24: the one that runs this, or one from the registry; where there is none, the reason in a sentence. */
export function node24(): NewNode | { readonly missing: string } {
  found ??= look()
  return found
}

function look(): NewNode | { readonly missing: string } {
  try {
    const command = ['-y', 'node@24', '-p', 'process.version + " " + process.execPath']
    const [version, path] = execFileSync('npx', command, {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      timeout: 180_000,
    })
      .trim()
      .split(' ') as [string, string]
    return { version, path }
  } catch (error) {
    return { missing: `left out: no Node 24 can be had here (${(error as Error).message.split('\n', 1)[0]})` }
  }
}
