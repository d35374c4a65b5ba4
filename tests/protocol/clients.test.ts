// What our own client says of itself to a server, with Node and in a browser: the client as it is shipped, over an editor that answers anything. The table of
// methods and clients in DEVELOPERS.md rests on it.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { createContext, runInContext } from 'node:vm'
import { build } from 'esbuild'
import { expect, test } from 'vitest'
import { declaredIn } from '../../server/tools/clients.ts'
import { leanClient } from '../../server/tools/lean-client.ts'
import { expectRecorded } from '../support/known-clients.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const require = createRequire(import.meta.url)
const { version } = JSON.parse(readFileSync(join(ROOT, 'node_modules/vscode-languageclient/package.json'), 'utf8'))

/** Whatever is asked of it is there, can be called, made and walked through, and holds nothing. */
const ANYTHING: unknown = new Proxy(class {}, {
  get: (target, key) =>
    key === 'prototype'
      ? target.prototype
      : key === Symbol.iterator
        ? () => [].values()
        : key === Symbol.toPrimitive
          ? () => ''
          : key === 'then'
            ? undefined
            : ANYTHING,
  apply: () => ANYTHING,
  construct: (target, given, made) => (made === ANYTHING ? (ANYTHING as object) : Reflect.construct(target, given, made)),
})

async function clientScript(): Promise<string> {
  const { outputFiles } = await build({
    absWorkingDir: ROOT,
    entryPoints: ['client/src/language-client.ts'],
    bundle: true,
    write: false,
    format: 'cjs',
    platform: 'node',
    mainFields: ['module', 'main'],
    external: ['vscode', 'vscode-jsonrpc'],
    plugins: [leanClient],
  })
  return outputFiles[0]!.text
}

/** Of a client in a world with these globals. */
function saidIn(script: string, globals: object): object {
  const module = { exports: {} as { createClient: (...given: unknown[]) => { computeClientCapabilities(): object } } }
  // By every name that is asked for anywhere.
  const vscode = Object.fromEntries([...script.matchAll(/\.([A-Za-z]\w*)/g)].map(([, name]) => [name, ANYTHING]))
  const world = {
    ...globals,
    module,
    exports: module.exports,
    require: (name: string) => (name === 'vscode' ? vscode : require(name)),
  }
  runInContext(script, createContext(world))
  return module.exports.createClient(ANYTHING, ANYTHING, {}).computeClientCapabilities()
}

test('the client of VS Code asks for what the table of methods says, in a browser as well', async () => {
  const script = await clientScript()
  const { setTimeout, clearTimeout, TextDecoder, TextEncoder, console } = globalThis
  const everywhere = { setTimeout, clearTimeout, TextDecoder, TextEncoder, console }
  const onNode = saidIn(script, { ...everywhere, process, Buffer })
  expectRecorded('VS Code', `vscode-languageclient ${version}`, onNode)
  expect(declaredIn(saidIn(script, everywhere))).toEqual(declaredIn(onNode))
})
