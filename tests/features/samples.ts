// Files of the sample shop as a fixture, so that hovers are tried on profiles as a shop has them.
import { readFileSync } from 'node:fs'

const SHOP = new URL('../../samples/tern-quay/', import.meta.url)

/** A profile of the sample shop with its stock, its printer and the shop, the profile first. */
export function sampleFiles(profile: string): string {
  const text = read(profile)
  const stock = /^stock: (\S+)/m.exec(text)?.[1]
  const printer = /^printer: (\S+)/m.exec(text)?.[1]
  return [profile, `stocks/${stock}.stock.yaml`, `printers/${printer}.printer.yaml`, 'rollbook.yaml']
    .map((name) => `#- ${name}\n${read(name)}`)
    .join('')
}

const read = (name: string): string => readFileSync(new URL(name, SHOP), 'utf8')
