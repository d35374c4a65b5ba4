// The table of features: what the client is told of is what is answered, and the other way round.
import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { InitializeParams } from 'vscode-languageserver'
import { abilitiesOf } from '../../server/src/lsp/abilities.ts'
import { capabilitiesOf } from '../../server/src/lsp/feature.ts'
import { FEATURES } from '../../server/src/lsp/features.ts'
import { generateMethodsTable } from '../../server/tools/methods-table.ts'
import { FULL } from './client.ts'

const PULLS = { ...FULL, textDocument: { ...FULL.textDocument, diagnostic: {} } }
const ABILITIES = [FULL, PULLS, {}].map((capabilities) => abilitiesOf({ capabilities } as InitializeParams))
const methods = FEATURES.map(({ requests, notifications }) => Object.keys({ ...requests, ...notifications }))

test.each(ABILITIES)('each request of the protocol comes with a capability, and each capability with one', (able) => {
  for (const feature of FEATURES) {
    const told = Object.keys(capabilitiesOf([feature], able))
    const standard = Object.keys(feature.requests ?? {}).filter((method) => !method.startsWith('rollbook/'))
    const provided = told.filter((key) => key.endsWith('Provider'))
    // Who asks for nothing is offered nothing to ask for.
    if (standard.includes('textDocument/diagnostic') && !able.pullsFindings) expect(provided).toEqual([])
    else expect({ standard, provided }).toSatisfy(() => standard.length > 0 === provided.length > 0)
  }
})

test('no message is answered by two features, and no capability is told of by two, but for parts of a common group', () => {
  const answered = methods.flat()
  expect(answered).toEqual([...new Set(answered)])
  for (const able of ABILITIES) {
    const told = FEATURES.flatMap((feature) => Object.keys(capabilitiesOf([feature], able))).filter((key) => key !== 'workspace')
    expect(told).toEqual([...new Set(told)])
  }
})

test('the table in DEVELOPERS.md lists every method, and is what `npm run gen` would write', async () => {
  const [written] = await generateMethodsTable()
  expect(readFileSync(new URL('../../DEVELOPERS.md', import.meta.url), 'utf8')).toBe(written!.text)
  for (const method of methods.flat()) expect(written!.text).toContain(`| \`${method}\` |`)
})
