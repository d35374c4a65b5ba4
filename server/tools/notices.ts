// The licences of the packages that are bundled into what is shipped: MIT, ISC and the like ask that their notice goes with every copy.
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Metafile } from 'esbuild'

/** Where a package's own copy of its licence may stand. */
const LICENCE_FILE = /^(?:licen[cs]e|copying|notice)(?:[-.](?:md|txt|mit|bsd))*$/i

const RULE = '-'.repeat(80)

/**
 * One text with the name, version and whole licence of each package that a bundle was made from, by name.
 * Throws where a package states no licence text: such a package must not be shipped unseen.
 */
export function noticesOf(root: string, metafiles: readonly Metafile[]): string {
  const notices = bundledPackages(metafiles).map((folder) => noticeOf(root, folder))
  const intro = 'Rollbook contains the following packages, each under its own licence.'
  return `${[intro, ...notices].join(`\n\n${RULE}\n`)}\n`
}

/** The folders of the packages whose files are inputs of the bundles, nested ones as well: `node_modules/a`, `node_modules/b/node_modules/c`. */
export function bundledPackages(metafiles: readonly Metafile[]): readonly string[] {
  const inputs = metafiles.flatMap(({ outputs }) => Object.values(outputs).flatMap((output) => Object.keys(output.inputs)))
  const folders = inputs.map((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0])
  return [...new Set(folders.filter((folder) => folder !== undefined))].sort()
}

function noticeOf(root: string, folder: string): string {
  const { name, version, license } = JSON.parse(readFileSync(join(root, folder, 'package.json'), 'utf8'))
  const texts = licenceTexts(join(root, folder))
  if (texts.length === 0) throw new Error(`${name} is bundled, but its package holds no licence text to ship with it`)
  return `${name} ${version} (${license})\n\n${texts.join('\n\n')}`
}

function licenceTexts(folder: string): readonly string[] {
  if (!existsSync(folder)) return []
  const names = readdirSync(folder).filter((name) => LICENCE_FILE.test(name))
  return names.sort().map((name) => readFileSync(join(folder, name), 'utf8').replaceAll('\r\n', '\n').trim())
}
