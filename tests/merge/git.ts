// Merges by git itself: all files of a run in one repository with three commits, so that one `git merge` (strategy ort) merges thousands.
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface Versions {
  readonly base: string
  readonly ours: string
  readonly theirs: string
}

export interface Manner {
  /** What git does by itself, or `merge=union` for the files, which keeps both sides as *Accept Both Changes* in an editor does. */
  readonly driver: 'text' | 'union'
  /** Merging takes `histogram` where nothing is said; `git merge-file` takes `myers`. */
  readonly algorithm: 'histogram' | 'myers'
}

/** Nothing that is set on this machine: neither its configuration nor a repository that a hook runs in. */
const ENV = {
  ...Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('GIT_'))),
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_AUTHOR_NAME: 'Tern Quay',
  GIT_AUTHOR_EMAIL: 'print@tern-quay.example',
  GIT_COMMITTER_NAME: 'Tern Quay',
  GIT_COMMITTER_EMAIL: 'print@tern-quay.example',
}

/** Each text after theirs was merged into ours, in each manner; with conflict markers where git leaves it to a person. */
export function merged(files: readonly Versions[], manners: readonly Manner[]): readonly (readonly string[])[] {
  const folder = mkdtempSync(join(tmpdir(), 'rollbook-merge-'))
  const git = (args: readonly string[], input?: string): string =>
    execFileSync('git', args, {
      cwd: folder,
      env: ENV,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      ...(input === undefined ? {} : { input }),
    })
  try {
    git(['init', '-q', '-b', 'main'])
    git(['config', 'core.fsync', 'none']) // Nothing of it is kept; waiting for the disk takes longer than merging.
    git(['fast-import', '--quiet'], commitsOf(files))
    return manners.map(({ driver, algorithm }) => {
      git(['checkout', '-q', '-f', '-B', 'work', 'ours'])
      mkdirSync(join(folder, '.git', 'info'), { recursive: true })
      writeFileSync(join(folder, '.git', 'info', 'attributes'), driver === 'union' ? '*.media.yaml merge=union\n' : '')
      const { status, stderr } = spawnSync('git', ['merge', '-q', '--no-edit', '-X', `diff-algorithm=${algorithm}`, 'theirs'], {
        cwd: folder,
        env: ENV,
      })
      if (status !== 0 && status !== 1) throw new Error(`git merge ended with ${status}: ${stderr}`)
      return files.map((_, i) => readFileSync(join(folder, nameOf(i)), 'utf8'))
    })
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 })
  }
}

const nameOf = (i: number): string => `p${i}.media.yaml`

function commitsOf(files: readonly Versions[]): string {
  const commit = (branch: keyof Versions, mark: number): string => {
    const head = `commit refs/heads/${branch}\nmark :${mark}\ncommitter Tern Quay <print@tern-quay.example> ${1_793_000_000 + mark} +0000\ndata 0\n`
    const contents = files.map(
      (file, i) => `M 100644 inline ${nameOf(i)}\ndata ${Buffer.byteLength(file[branch])}\n${file[branch]}\n`,
    )
    return `${head}${mark > 1 ? 'from :1\n' : ''}${contents.join('')}\n`
  }
  return `${commit('base', 1)}${commit('ours', 2)}${commit('theirs', 3)}done\n`
}

export const hasConflict = (text: string): boolean => /^<{7} /m.test(text)
