// Keeps what Node 20 has compiled of the commands from one run to the next. Later Nodes do so by themselves (`module.enableCompileCache`).
import { createHash } from 'node:crypto'
import { closeSync, fstatSync, mkdirSync, openSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import Module from 'node:module'
import { homedir } from 'node:os'
import { basename, dirname, isAbsolute, join } from 'node:path'
import { setFlagsFromString } from 'node:v8'
import { Script } from 'node:vm'
import { COMPILE_LESS } from './main-flags.ts'
import { BUNDLED } from './version.ts'

/** What `require` does, as far as it is needed here and typed nowhere. */
interface Loaded {
  exports: unknown
  require(id: string): unknown
}

interface Modules {
  /** From Node 22 on. */
  readonly enableCompileCache?: () => void
  readonly _extensions: Record<string, Loader>
}

type Loader = (module: Loaded, path: string) => void

const SIGNATURE = 20

/** Loads what is bundled by way of the cache from now on. A cache that cannot be read or written, or does not fit, costs nothing but time. */
export function keepCompiled(): void {
  const { CI, NODE_DISABLE_COMPILE_CACHE } = process.env
  if (!BUNDLED) return
  const { enableCompileCache, _extensions: loaders } = Module as unknown as Modules
  if (enableCompileCache) {
    enableCompileCache()
    return
  }
  // What was compiled under other flags does not fit.
  for (const flag of COMPILE_LESS) setFlagsFromString(flag)
  // A build server starts afresh each time.
  if (CI || NODE_DISABLE_COMPILE_CACHE) return
  loaders['.cjs'] = (module, path) => (dirname(path) === __dirname ? loadKept(module, path) : loaders['.js']!(module, path))
}

function loadKept(module: Loaded, path: string): void {
  const source = Module.wrap(readFileSync(path, 'utf8'))
  const file = () => cacheFile(basename(path).replace(/-.*|\.cjs$/, '.bin'))
  const cachedData = kept(file, source)
  const script = new Script(source, { filename: path, ...(cachedData && { cachedData }) })
  if (!cachedData || script.cachedDataRejected) process.on('exit', () => keep(file, source, script.createCachedData()))
  script.runInThisContext()(module.exports, (id: string) => module.require(id), module, path, dirname(path))
}

/** The engine of Node tells another version of its own, and no more: that the data is whole, ours, and made of this source is looked at here. */
function kept(file: () => string, source: string): Buffer | undefined {
  try {
    const open = openSync(file(), 'r')
    try {
      if (process.getuid && fstatSync(open).uid !== process.getuid()) return undefined
      const bytes = readFileSync(open)
      const data = bytes.subarray(SIGNATURE)
      return bytes.subarray(0, SIGNATURE).equals(signature(source, data)) ? data : undefined
    } finally {
      closeSync(open)
    }
  } catch {
    return undefined
  }
}

/** Whole or not at all, whoever writes at the same time. */
function keep(file: () => string, source: string, data: Buffer): void {
  try {
    const path = file()
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 })
    const own = `${path}.${process.pid}.tmp`
    writeFileSync(own, Buffer.concat([signature(source, data), data]), { mode: 0o600 })
    renameSync(own, path)
  } catch {
    // Without it the next command takes as long as this one.
  }
}

const signature = (source: string, data: Buffer): Buffer => createHash('sha1').update(source).update(data).digest()

function cacheFile(name: string): string {
  const { LOCALAPPDATA, XDG_CACHE_HOME } = process.env
  const caches = process.platform === 'win32' ? LOCALAPPDATA : XDG_CACHE_HOME
  return join(caches && isAbsolute(caches) ? caches : join(homedir(), '.cache'), 'rollbook', name)
}
