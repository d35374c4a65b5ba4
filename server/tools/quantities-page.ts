// Writes schemas/reference/quantities.md, the reference of all computed quantities, from their definitions and the sample shop: each with the
// formula, what goes into it, and where it holds.
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const SHOP = fileURLToPath(new URL('../../samples/tern-quay/', import.meta.url))
/** The day the samples are read as on. */
const TODAY = '2026-11-25'
const ROOT = 'file:///shop/'

interface Row {
  readonly key: string
  readonly title: string
  readonly formula: string
  readonly inputs: readonly string[]
  readonly source: string
  readonly validity: string | undefined
  readonly area: string
}

/** Imported late: the indexes of the areas may have been written a moment before. */
export async function generateQuantitiesPage(): Promise<{ path: string; text: string }[]> {
  const rows = await rowsOfSamples()
  const areas = [...new Set(rows.map(({ area }) => area))]
  const text = `# Quantities

Generated from their definitions by \`npm run gen\`; one that the sample shop has nothing to do with is not listed. \`rollbook reckon <profile>\` gives
them with a profile's own numbers, and which inputs are given, typical or computed. Everything is in SI units; \`*\` stands for a number.

${areas
  .map(
    (area) =>
      `## ${area}\n\n${rows
        .filter((row) => row.area === area)
        .map(entry)
        .join('\n\n')}`,
  )
  .join('\n\n')}
`
  return [{ path: 'schemas/reference/quantities.md', text }]
}

const entry = ({ key, title, formula, inputs, source, validity }: Row): string =>
  [
    `**${title}** \`${key}\``,
    `- \`${formula}\``,
    ...(inputs.length > 0 ? [`- with ${inputs.join('; ')}`] : []),
    `- source: ${source}`,
    ...(validity === undefined ? [] : [`- ${validity}`]),
  ].join('\n')

async function rowsOfSamples(): Promise<readonly Row[]> {
  const { QUANTITIES } = await import('../src/areas/generated/quantities.ts')
  const { definitionsOf } = await import('../src/areas/reckon.ts')
  const { textOf } = await import('../src/areas/quantity.ts')
  const { AREA_TITLES } = await import('../src/report/reckon-text.ts')
  const rows = new Map<string, Row>()
  for (const setup of await sampleSetups())
    for (const area of QUANTITIES)
      for (const quantity of definitionsOf(area, setup)) {
        if (quantity.applies?.(setup) === false) continue
        const key = quantity.key.replace(/\.\d+(?=\.|$)/g, '.*')
        const inputs = Object.entries(quantity.inputs(setup)).flatMap(([symbol, input]) =>
          input ? [symbol === input.name ? `\`${symbol}\`` : `\`${symbol}\` ${input.name}`] : [],
        )
        const before = rows.get(key)
        if (before && before.inputs.length >= inputs.length) continue
        const { title, formula, source, validity } = quantity
        const heading = AREA_TITLES[key.slice(0, key.indexOf('.'))] ?? key
        rows.set(key, { key, title: plainTitle(title), formula: textOf(formula), inputs, source, validity, area: heading })
      }
  const order = Object.values(AREA_TITLES)
  return [...rows.values()].sort((a, b) => order.indexOf(a.area) - order.indexOf(b.area))
}

/** Without the day or the name of one sample. */
const plainTitle = (title: string): string => title.replace(/\d{4}-\d{2}-\d{2}/, 'a day')

async function sampleSetups() {
  const { MemoryHost } = await import('../src/host/memory.ts')
  const { Workspace } = await import('../src/workspace/workspace.ts')
  const names = readdirSync(SHOP, { recursive: true, encoding: 'utf8' }).map((name) => name.replaceAll('\\', '/'))
  const documents = names.filter((name) => name.endsWith('.yaml')).sort()
  const others = names.filter((name) => /\.(?:txt|icc)$/.test(name))
  const texts = documents.map((name): [string, string] => [ROOT + name, readFileSync(SHOP + name, 'utf8')])
  const bytes = others.map((name): [string, Uint8Array] => [ROOT + name, new Uint8Array(readFileSync(SHOP + name))])
  const workspace = new Workspace(new MemoryHost(new Map(texts), TODAY, new Map(bytes)))
  await workspace.addFolder(ROOT)
  const setups = []
  for (const name of documents.filter((one) => one.endsWith('.media.yaml'))) {
    await workspace.load(ROOT + name)
    await workspace.prepare(ROOT + name)
    const document = workspace.document(ROOT + name)
    const setup = document && workspace.setup(document)
    if (setup) setups.push(setup)
  }
  return setups
}
