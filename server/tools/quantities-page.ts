// Writes schemas/reference/quantities.md, the reference of all computed quantities, from their definitions and the sample shop: each with the
// formula, what goes into it, and where it holds.

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
  const { sampleSetups } = await import('./samples.ts')
  const { AREA_TITLES } = await import('../src/report/reckon-text.ts')
  const rows = new Map<string, Row>()
  for (const setup of await sampleSetups('tern-quay'))
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
