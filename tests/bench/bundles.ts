// Bundles everything that is measured into a folder of its own, with the options the product is shipped with, so that a rebuild of dist/
// in the middle of a run changes nothing, and so that what is compared is bundled alike.
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'

export const ROOT = join(import.meta.dirname, '..', '..')

export interface Bundles {
  readonly server: string
  /** With its names kept, for profiles. */
  readonly namedServer: string
  readonly bareServer: string
  readonly workspace: string
  readonly core: string
  readonly peers: string
  /** Undefined while there is no command line. */
  readonly cli: string | undefined
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
      ...(name.endsWith('.mjs') && { banner: { js: REQUIRE } }),
    })
    return outfile
  }
  const cli = 'server/src/main-cli.ts'
  return {
    server: await one('server/src/main-node.ts', 'server.cjs', true),
    namedServer: await one('server/src/main-node.ts', 'server-named.cjs', false),
    bareServer: await one('tests/bench/bare-server.ts', 'bare-server.cjs', true),
    workspace: await one('tests/bench/workspace-child.ts', 'workspace.mjs', true),
    core: await one('tests/bench/core-child.ts', 'core.mjs', true),
    peers: await one('tests/bench/peers-child.ts', 'peers.mjs', true),
    cli: existsSync(join(ROOT, cli)) ? await one(cli, 'rollbook.cjs', true) : undefined,
  }
}
