// Builds everything that is measured into a folder of its own, so that a rebuild of dist/ in the middle of a run changes nothing: the product
// by its own build, and what it is compared with by the same bundler with the same options.
import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { build } from 'esbuild'
import { COMPILE_LESS_FIRST } from '../../server/tools/banners.ts'

export const ROOT = join(import.meta.dirname, '..', '..')

export interface Bundles {
  readonly server: string
  /** With its names kept, for profiles. */
  readonly namedServer: string
  readonly bareServer: string
  readonly workspace: string
  readonly core: string
  readonly peers: string
  readonly cli: string
}

/** CommonJS packages inside an ES module ask for Node's own modules this way. */
const REQUIRE = `import { createRequire } from 'node:module'\nconst require = createRequire(import.meta.url)`

export async function bundles(folder: string): Promise<Bundles> {
  const one = async (entry: string, name: string, minify: boolean): Promise<string> => {
    const outfile = join(folder, name)
    await build({
      absWorkingDir: ROOT,
      entryPoints: [entry],
      outfile,
      bundle: true,
      platform: 'node',
      target: 'node20',
      format: name.endsWith('.mjs') ? 'esm' : 'cjs',
      mainFields: ['module', 'main'],
      minify,
      legalComments: 'none',
      logLevel: 'error',
      define: { ROLLBOOK_VERSION: '"measured"' },
      banner: { js: name.endsWith('.mjs') ? REQUIRE : entry.startsWith('server/') ? COMPILE_LESS_FIRST : '' },
    })
    return outfile
  }
  const product = join(folder, 'dist')
  const command = ['--import', 'tsx', join('server', 'tools', 'build.ts'), '--quiet', '--out', product]
  execFileSync(process.execPath, command, { cwd: ROOT, stdio: ['ignore', 'ignore', 'inherit'] })
  return {
    server: join(product, 'server.cjs'),
    namedServer: await one('server/src/main-node.ts', 'server-named.cjs', false),
    bareServer: await one('tests/bench/bare-server.ts', 'bare-server.cjs', true),
    workspace: await one('tests/bench/workspace-child.ts', 'workspace.mjs', true),
    core: await one('tests/bench/core-child.ts', 'core.mjs', true),
    peers: await one('tests/bench/peers-child.ts', 'peers.mjs', true),
    cli: join(product, 'rollbook.cjs'),
  }
}
