// The bundles are CommonJS modules that name one another. Where there is no Node to load them, they are put together into one script.

/** What the modules ask of Node while they are loaded. What they would do with the rest of it is not done in a browser. */
const STANDINS = `const process = { env: {} }, Buffer = { allocUnsafe: (length) => new Uint8Array(length) }
const setImmediate = (call, ...given) => setTimeout(call, 0, ...given), clearImmediate = clearTimeout
const NODE = { util: { TextDecoder }, crypto: { randomUUID: () => globalThis.crypto.randomUUID() }, 'node:module': { enableCompileCache() {} } }
`

const LOADER = `const LOADED = {}
const require = (name) => {
  const part = PARTS[name]
  if (!part) return NODE[name] ?? {}
  if (!LOADED[name]) part((LOADED[name] = { exports: {} }), LOADED[name].exports, require)
  return LOADED[name].exports
}
`

/** A script that loads the module of this name, and what it needs; as the body of a function it returns what that exports, where `result` says so. */
export async function programOf(read: (name: string) => PromiseLike<Uint8Array>, entry: string, result = ''): Promise<string> {
  const parts = new Map<string, string>()
  const gather = async (name: string): Promise<void> => {
    if (parts.has(name)) return
    parts.set(name, '')
    const text = new TextDecoder().decode(await read(name))
    const isData = name.endsWith('.json')
    parts.set(name, isData ? `module.exports = ${text}` : text)
    const named = isData ? [] : [...text.matchAll(/"\.\/([\w-]+\.(?:cjs|json))"/g)]
    await Promise.all(named.map(([, other = '']) => gather(other)))
  }
  await gather(entry)
  const modules = [...parts].map(([name, text]) => `"./${name}": (module, exports, require) => {${text}\n},\n`)
  return `${STANDINS}const PARTS = {${modules.join('')}}\n${LOADER}${result}require("./${entry}")`
}
