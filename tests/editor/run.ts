// Runs the extension-host suite in a real editor. On Linux that is the workbench host of this folder; elsewhere, or with
// EDITOR_DOWNLOAD=1, the desktop editor that @vscode/test-electron downloads; EDITOR_PATH names any other executable.
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { runTests } from '@vscode/test-electron'
import { build } from 'esbuild'
import { copyOfExtension } from './extension.ts'
import { temporaryFolder, writeShop } from './shop.ts'

const STAND_IN = join(import.meta.dirname, 'host', 'code')

const work = temporaryFolder()
try {
  const suite = join(work, 'suite.cjs')
  const entryPoints = [join(import.meta.dirname, 'suite.ts')]
  await build({
    entryPoints,
    outfile: suite,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    external: ['vscode'],
    logLevel: 'warning',
  })
  const executable =
    process.env.EDITOR_PATH ?? (process.platform === 'linux' && !process.env.EDITOR_DOWNLOAD ? STAND_IN : undefined)
  await runTests({
    ...(executable === undefined ? {} : { vscodeExecutablePath: executable }),
    extensionDevelopmentPath: copyOfExtension(work),
    extensionTestsPath: suite,
    extensionTestsEnv: { ROLLBOOK_TEST_LISTENER: join(import.meta.dirname, 'host', 'network-log.cjs') },
    launchArgs: [
      workspaceOfTwoShops(work),
      '--disable-extensions',
      `--user-data-dir=${join(work, '.user')}`,
      `--extensions-dir=${join(work, '.extensions')}`,
    ],
  })
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : error}\n`)
  process.exitCode = 1
} finally {
  rmSync(work, { recursive: true, force: true, maxRetries: 5 })
}

/** The shops hold the same documents, but for the step of the feed correction: each profile must go by its own printer. */
function workspaceOfTwoShops(folder: string): string {
  const folders = [writeShop(folder, 'quay'), writeShop(folder, 'harbour', '0.05 %')]
  const file = join(folder, 'shops.code-workspace')
  writeFileSync(file, JSON.stringify({ folders: folders.map((path) => ({ path })) }))
  return file
}
