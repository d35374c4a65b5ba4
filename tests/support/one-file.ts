// A program of this project from source, as a file that Node runs as it is: it starts as fast as the one that is shipped.
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildSync } from 'esbuild'

const ROOT = fileURLToPath(new URL('../../', import.meta.url))

/** Writes `server/src/<name>.ts` into a folder, with all that it imports, and says where. */
export function oneFile(name: 'main-cli' | 'main-server', folder: string): string {
  const outfile = join(folder, `${name}.cjs`)
  buildSync({
    entryPoints: [join(ROOT, `server/src/${name}.ts`)],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile,
    logLevel: 'error',
  })
  return outfile
}
