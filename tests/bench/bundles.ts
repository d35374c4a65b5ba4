// Builds everything that is measured into a folder of its own, so that a rebuild of dist/ in the middle of a run changes nothing: the product
// by its own build, and what it is compared with by the same bundler with the same options.
import { execFileSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { COMPILE_LESS_FIRST } from '../../server/tools/banners.ts'

export const ROOT = join(import.meta.dirname, '..', '..')

export interface Bundles {
  readonly server: string
  readonly cli: string
  /** With its names kept, for profiles. */
  readonly namedServer: string
  /** The same, which counts how often it parses. */
  readonly countingServer: string
  readonly bareServer: string
  readonly nullServer: string
  readonly inProcess: string
  readonly bareParse: string
  readonly workspace: string
  readonly core: string
  /** The extension, and what loads it. */
  readonly extension: string
  readonly activation: string
}

/** CommonJS packages inside an ES module ask for Node's own modules this way. */
const REQUIRE = `import { createRequire } from 'node:module'\nconst require = createRequire(import.meta.url)`

export async function bundles(folder: string): Promise<Bundles> {
  const one = async (entry: string, name: string, minify = true): Promise<string> => {
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
  const namedServer = await one('server/src/main-server.ts', 'server-named.cjs', false)
  return {
    server: join(product, 'server.cjs'),
    cli: join(product, 'rollbook.cjs'),
    namedServer,
    countingServer: counting(namedServer),
    bareServer: await one('tests/bench/children/bare-server.ts', 'bare-server.cjs'),
    nullServer: await one('tests/bench/children/null-server.ts', 'null-server.cjs'),
    inProcess: await one('tests/bench/children/in-process.ts', 'in-process.mjs'),
    bareParse: await one('tests/bench/children/bare-parse.ts', 'bare-parse.cjs'),
    workspace: await one('tests/bench/children/workspace.ts', 'workspace.mjs'),
    core: await one('tests/bench/children/core.ts', 'core.mjs'),
    extension: join(product, 'extension.js'),
    activation: await one('tests/bench/children/activation.ts', 'activation.mjs'),
  }
}

/** Where the server builds a tree of a text, `SyntaxTree.build`. */
const PARSE = /static build\(text\d*, before, read\d*\) \{/g

/** Writes the count into the bundle: what the engine itself counts is lost wherever it compiles anew. */
function counting(server: string): string {
  const text = readFileSync(server, 'utf8')
  if (text.match(PARSE)?.length !== 1)
    throw new Error('the server parses elsewhere by now: the benchmark counts SyntaxTree.build')
  const out = server.replace('named', 'counting')
  writeFileSync(out, text.replace(PARSE, '$& globalThis.rollbookParses = (globalThis.rollbookParses ?? 0) + 1'))
  return out
}
