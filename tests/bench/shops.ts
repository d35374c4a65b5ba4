// The shops that are measured, made from plain arithmetic like the texts, and written to disk.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join, sep } from 'node:path'
import { ROOT } from './bundles.ts'
import { profile, times } from './texts.ts'

export const SAMPLE = join(ROOT, 'samples', 'tern-quay')

export type Files = ReadonlyMap<string, string>

/** Writes a shop; returns the bytes of all its documents. */
export function writeShop(folder: string, files: Files): number {
  let bytes = 0
  for (const [path, text] of files) {
    const file = join(folder, path)
    mkdirSync(dirname(file), { recursive: true })
    writeFileSync(file, text)
    if (path.endsWith('.yaml')) bytes += Buffer.byteLength(text)
  }
  return bytes
}

/** The sample shop's files by path. */
export function sampleFiles(): Files {
  const entries = readdirSync(SAMPLE, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
  const paths = entries.map(({ parentPath, name }) => join(parentPath, name)).sort()
  return new Map(
    paths.map((path) => [
      path
        .slice(SAMPLE.length + 1)
        .split(sep)
        .join('/'),
      readFileSync(path, 'utf8'),
    ]),
  )
}

/** A shop of `count` profiles of about 2.6 kB with 50 stocks and 10 printers, by path. Its stocks and printers are the sample's. */
export function bigShop(count: number, today: Date): Files {
  const sample = sampleFiles()
  const read = (path: string): string => sample.get(path)!
  const files = new Map<string, string>([['rollbook.yaml', read('rollbook.yaml')]])
  const stock = read('stocks/cast-film-gloss-50.stock.yaml')
  const printer = read('printers/bay-1.printer.yaml').replace('slots: 30', `slots: ${count}`)
  for (let i = 1; i <= 50; i++)
    files.set(`stocks/film-${i}.stock.yaml`, stock.replaceAll('stock: cast-film-gloss-50', `stock: film-${i}`))
  for (let i = 1; i <= 10; i++)
    files.set(`printers/press-${i}.printer.yaml`, printer.replace('printer: bay-1', `printer: press-${i}`))
  for (let i = 1; i <= count; i++) {
    const id = `film-${1 + (i % 50)}-${i}`
    const where = { stock: `film-${1 + (i % 50)}`, printer: `press-${1 + (i % 10)}`, slot: i }
    files.set(`profiles/${i % 100}/${id}.media.yaml`, profile({ id, ...where, checks: 9, readings: 3, observed: 2, today }))
  }
  return files
}

/**
 * A shop of about `count` profiles multiplied from the sample shop: each of its profiles once a copy, with figures of its own and up to twenty
 * older checks more, and a stock of each kind for every tenth copy.
 */
export function mixedShop(count: number): Files {
  const files = sampleFiles()
  const out = new Map<string, string>()
  const profiles = [...files].filter(([path]) => path.endsWith('.media.yaml'))
  const copies = Math.ceil(count / profiles.length)
  for (const [path, text] of files) {
    const [folder, name = ''] = path.split(/\/(?=[^/]+$)/)
    if (path.endsWith('.stock.yaml')) {
      for (let n = 0; n < copies / 10; n++) {
        out.set(`${folder}/${name.replace('.', `-${n}.`)}`, text.replace(/^(stock: .*)$/m, `$1-${n}`))
      }
    } else if (folder === 'profiles' || folder === 'profiles/colour') {
      for (let n = 0; n < copies; n++)
        out.set(path.replace('profiles/', `profiles/${n}/`).replace('.media', `-${n}.media`), copyOf(text, n))
    } else out.set(path, text.replace(/^slots: .*$/m, `slots: ${SLOTS * copies}`))
  }
  return out
}

/** More than any printer of the sample has. */
const SLOTS = 100

function copyOf(text: string, n: number): string {
  const older = (line: string): string =>
    times((n * 7) % 21, (i) => line.replace(/date: [\d-]+/, `date: 20${10 + (i >> 2)}-0${1 + (i & 3)}-15`)).join('')
  return text
    .replace(/^((?:profile|base): .*)$/gm, `$1-${n}`)
    .replace(/^(stock: .*)$/m, `$1-${Math.floor(n / 10)}`)
    .replace(/^( *slot: )(\d+)$/gm, (_, key, slot) => key + (Number(slot) + SLOTS * n))
    .replace(/^( +checks:\n)((?: +#.*\n)*)( +- \{ date: .*\}\n)/m, (_, key, remarks, line) => key + older(line) + remarks + line)
    .replace(/(measured: \d+\.)(\d)/g, (_, whole, tenth) => whole + ((Number(tenth) + n) % 10))
    .replace(/((?:before|platen|after): )(\d+)( °C)/g, (_, key, degrees, unit) => key + (Number(degrees) + (n % 3)) + unit)
}
