// The extension in the browser's own extension host, where there is no Node, on two shops that lie in no file of the machine.
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterAll, expect, test } from 'vitest'
import { copyOfExtension } from './extension.ts'
import { startHost } from './host/host.ts'
import { temporaryFolder } from './shop.ts'

const HERE = join(import.meta.dirname, 'web')
const SAMPLES = join(import.meta.dirname, '..', '..', 'samples', 'tern-quay')
const SHOTS = join(import.meta.dirname, 'shots')
/** It is in memory, and no search finds it: a file that is not committed yet. */
const NEW = '/shop/profiles/new-banner.media.yaml'

const work = temporaryFolder()
afterAll(() => rmSync(work, { recursive: true, force: true, maxRetries: 5 }))

test('shops in no file of the machine are checked, explained and edited by a server in a worker', async () => {
  const said: string[] = []
  const host = await startHost({
    web: true,
    extensions: [copyOfExtension(work), await memoryFiles()],
    tests: await bundled('suite.ts', join(work, 'suite.js')),
    folder: workspaceOfTwoShops(),
    onTestLog: (_type, text) => said.push(text),
  })
  try {
    const result = await host.result
    mkdirSync(SHOTS, { recursive: true })
    await host.page.screenshot({ path: join(SHOTS, 'web.png') })
    expect(said.filter((line) => !line.startsWith('ok ')).join('\n')).toMatch(/^\d+ passed, 0 failed$/)
    expect(result).toBe(0)
    expect(host.processes('dist/server\\.cjs')).toEqual([])
    expect(host.requests).toEqual([])
  } finally {
    await host.close()
  }
}, 400_000)

function workspaceOfTwoShops(): string {
  const file = join(work, 'shops.code-workspace')
  writeFileSync(file, JSON.stringify({ folders: [{ uri: 'shop-in-memory:/shop' }, { uri: 'shop-in-memory:/harbour' }] }))
  return file
}

/** The extension that holds the sample shop in memory twice, the second time with a coarser step of the feed correction. */
async function memoryFiles(): Promise<string> {
  const folder = join(work, 'memory-files')
  mkdirSync(folder)
  cpSync(join(HERE, 'memory-files.json'), join(folder, 'package.json'))
  const paths = readdirSync(SAMPLES, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
  const files = paths.map((entry) => join(entry.parentPath, entry.name))
  const texts = Object.fromEntries(files.map((path) => [`/shop${path.slice(SAMPLES.length)}`, readFileSync(path, 'utf8')]))
  for (const [path, text] of Object.entries(texts))
    texts[path.replace('/shop', '/harbour')] = text.replace('step: 0.01 %', 'step: 0.05 %')
  texts[NEW] = 'profile: new-banner\nstock: banner-510\nprinter: bay-1\nmode: banner-4-pass\ngap: 200 mm\n'
  const define = { FILES: JSON.stringify(texts), UNCOMMITTED: JSON.stringify([NEW]) }
  await bundled('memory-files.ts', join(folder, 'extension.js'), define)
  return folder
}

async function bundled(entry: string, outfile: string, define: Record<string, string> = {}): Promise<string> {
  const entryPoints = [join(HERE, entry)]
  const options = { bundle: true, platform: 'browser', format: 'cjs', logLevel: 'warning' } as const
  await build({ ...options, external: ['vscode'], entryPoints, outfile, define })
  return outfile
}
